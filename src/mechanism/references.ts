import { midi } from './notes.ts';
import type { FingeringsFile, Link, MechanismFile, Motion } from './schema.ts';
import { findBrokenTube } from './tube-references.ts';
import { partsOfTube } from './tube-schema.ts';

const ACTIONS_OF_LINK: Readonly<Record<Link['action'], readonly Motion['action'][]>> = {
  closes: ['closes', 'presses'],
  holds: ['holds'],
  opens: ['opens'],
  raises: ['raises', 'presses'],
  switches: [],
};

/**
 * Looks for references that lead nowhere and rules that the schema cannot express.
 * @returns one sentence for each problem, saying what to do; empty when all is well.
 */
export function findBrokenReferences(mechanism: MechanismFile, fingerings: FingeringsFile): string[] {
  const { tube } = mechanism;
  if (tube !== undefined)
    return [
      ...findRepeatedIds(mechanism, fingerings),
      ...findBrokenFingerings(mechanism, fingerings),
      ...findRunningDown(mechanism),
      ...findBrokenTube(tube, mechanism, fingerings),
    ];
  return [
    ...findRepeatedIds(mechanism, fingerings),
    ...findBrokenMotions(mechanism),
    ...findBrokenLinks(mechanism),
    ...findBrokenVents(mechanism),
    ...findWithoutRegister(mechanism, fingerings),
    ...findBrokenFingerings(mechanism, fingerings),
    ...findKeyCircles(mechanism),
  ];
}

function findRepeatedIds(mechanism: MechanismFile, file: FingeringsFile): string[] {
  const { tube, vents, touches, keys, links, joints, bores, causes } = mechanism;
  const groups = [vents, touches, keys, links, joints, bores, causes, partsOfTube(tube), file.fingerings];
  const ids = groups.flatMap((group) => group.map((part) => part.id));
  return [...new Set(ids.filter((id, index) => ids.indexOf(id) !== index))].map(
    (id) => `${id} is there twice: give one of the two another id, or remove it.`,
  );
}

function findBrokenMotions(mechanism: MechanismFile): string[] {
  const movable = new Set([...mechanism.vents, ...mechanism.keys].map((part) => part.id));
  const links = new Map(mechanism.links.map((link) => [link.id, link]));
  return [...mechanism.touches, ...mechanism.keys].flatMap((driver) =>
    driver.moves.flatMap((motion) => {
      const problems: string[] = [];
      if (!movable.has(motion.part)) {
        problems.push(
          `${driver.id} moves ${motion.part}, which is no cup or key: correct the id or add the part.`,
        );
      }
      if (motion.link !== undefined) {
        const link = links.get(motion.link);
        if (link === undefined) {
          problems.push(
            `${driver.id} moves ${motion.part} through ${motion.link}, which is not listed: add the link.`,
          );
        } else if (!ACTIONS_OF_LINK[link.action].includes(motion.action)) {
          problems.push(
            `${driver.id} "${motion.action}" ${motion.part} through ${link.id}, but that link "${link.action}": make the two agree.`,
          );
        }
      }
      if (motion.when !== undefined && links.get(motion.when.link)?.action !== 'switches') {
        problems.push(
          `${driver.id}: "when" names ${motion.when.link}, which is no link that switches: name one that does.`,
        );
      }
      return problems;
    }),
  );
}

function findBrokenLinks(mechanism: MechanismFile): string[] {
  const drivers = new Set([...mechanism.touches, ...mechanism.keys].map((part) => part.id));
  const links = new Set(mechanism.links.map((link) => link.id));
  const motions = [...mechanism.touches, ...mechanism.keys].flatMap((driver) => driver.moves);
  return mechanism.links.flatMap((link) => {
    const problems: string[] = [];
    const isSwitch = link.action === 'switches';
    if (isSwitch && (link.drivenBy ?? []).length === 0) {
      problems.push(`${link.id} switches, but nothing drives it: say who does under "drivenBy".`);
    }
    if (!isSwitch && link.drivenBy !== undefined) {
      problems.push(
        `${link.id} has "drivenBy" but does not switch: remove it and name the link in the motion instead.`,
      );
    }
    for (const driver of link.drivenBy ?? []) {
      if (!drivers.has(driver))
        problems.push(`${link.id} is driven by ${driver}, which is no touch or key: correct the id.`);
    }
    const isUsed = motions.some((motion) => (isSwitch ? motion.when?.link : motion.link) === link.id);
    if (!isUsed)
      problems.push(`${link.id} is used by no motion: name it in the motion it carries, or remove it.`);
    const { lookAlike } = link.adjuster;
    if (lookAlike !== undefined && !links.has(lookAlike)) {
      problems.push(`${link.id} looks like ${lookAlike}, which is not listed: correct the id.`);
    }
    return problems;
  });
}

function findBrokenVents(mechanism: MechanismFile): string[] {
  const problems: string[] = [];
  const lowest = midi(mechanism.instrument.range.lowest);
  for (const vent of mechanism.vents) {
    if (vent.note === null && vent.registerVent === undefined) {
      problems.push(`${vent.id} must have a note or, as a register vent, a loss: give it one of them.`);
    }
    const isHalfHole = vent.registerVent !== undefined && vent.note === null;
    if (vent.cover === 'finger' && (isHalfHole ? vent.rest !== 'closed' : vent.rest !== 'open')) {
      problems.push(
        `${vent.id} is covered by a finger, so it rests open, or as a half hole (a register vent without a note) closed: correct that.`,
      );
    }
    if (vent.note !== null && midi(vent.note) <= lowest) {
      problems.push(
        `${vent.id} vents ${vent.note}, which is not above the lowest note: correct the note or the range.`,
      );
    }
  }
  const vents = new Set(mechanism.vents.map((vent) => vent.id));
  for (const bore of mechanism.bores) {
    if (bore.after === undefined || !vents.has(bore.after))
      problems.push(`${bore.id} lies after ${bore.after ?? 'nothing'}, which is no cup: correct the id.`);
  }
  for (const joint of mechanism.joints)
    if (joint.loss === undefined) problems.push(`${joint.id} tells no loss: add what a leak there costs.`);
  return [...problems, ...findRunningDown(mechanism)];
}

function findRunningDown({ causes }: MechanismFile): string[] {
  return causes.flatMap(({ id, effects }) =>
    effects
      .filter(({ from, to }) => midi(from) > midi(to))
      .map(({ from, to }) => `${id}: ${from} to ${to} runs downward: put the lower note first.`),
  );
}

function findBrokenFingerings(mechanism: MechanismFile, file: FingeringsFile): string[] {
  const touches = new Set(mechanism.touches.map((touch) => touch.id));
  const known = new Set(file.fingerings.map((fingering) => fingering.id));
  const broken = file.fingerings.flatMap((fingering) =>
    fingering.touches
      .filter((touch) => !touches.has(touch))
      .map(
        (touch) =>
          `${fingering.id} uses ${touch}, which is no touch of this instrument: correct the id or add it.`,
      ),
  );
  const missing = file.playTest.order
    .filter((id) => !known.has(id))
    .map((id) => `The play test asks for ${id}, which is no fingering: correct the id or add it.`);
  return [...broken, ...missing];
}

function findWithoutRegister({ vents }: MechanismFile, { fingerings }: FingeringsFile): string[] {
  return [
    ...(vents.length === 0
      ? ['There are neither cups nor a tube: say which of the two the instrument has.']
      : []),
    ...fingerings
      .filter(({ register }) => register === undefined)
      .map(({ id }) => `${id} tells no register: add 1, 2 or 3.`),
  ];
}

function findKeyCircles(mechanism: MechanismFile): string[] {
  const keys = new Map(mechanism.keys.map((key) => [key.id, key]));
  const leadsBack = (start: string, from: string, seen: Set<string>): boolean =>
    (keys.get(from)?.moves ?? []).some(({ part }) => {
      if (part === start) return true;
      if (seen.has(part)) return false;
      seen.add(part);
      return leadsBack(start, part, seen);
    });
  return mechanism.keys
    .filter((key) => leadsBack(key.id, key.id, new Set()))
    .map((key) => `${key.id} drives itself in a circle: remove one of the motions that lead back to it.`);
}
