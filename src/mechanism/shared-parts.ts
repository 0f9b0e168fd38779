import { planOf } from './fingering-plan.ts';
import type { Instrument, PartSort } from './instrument.ts';
import type { Fingering } from './schema.ts';
import { settle } from './settle.ts';
import { partsOnTube } from './tube-parts.ts';
import { clearFaults, enterFaults } from './vent-states.ts';

/**
 * How a fingering uses a part: a touch it presses, a key it works, a link it depends on (without that link some vent of
 * its air column would stand otherwise), a cup it needs closed above its first open hole, a vent it needs open (its
 * first open hole, or its register vent). On brass: a valve it needs down or up, a slide that its air passes.
 */
export type Relation =
  | 'presses'
  | 'works'
  | 'depends-on'
  | 'needs-closed'
  | 'needs-open'
  | 'needs-down'
  | 'needs-up'
  | 'passes';
export type SharedPart = { readonly part: string; readonly sort: PartSort; readonly relation: Relation };

/** Every part that a fingering uses on a healthy instrument, and how. */
export function partsOf(instrument: Instrument, fingering: Fingering): readonly SharedPart[] {
  const { uses } = instrument.workings;
  const parts =
    uses.get(fingering) ??
    (instrument.tubeWorkings === null
      ? findParts(instrument, fingering)
      : partsOnTube(instrument.tubeWorkings, fingering));
  uses.set(fingering, parts);
  return parts;
}

/**
 * What all failing fingerings have in common that no speaking one has: the technician's question. Empty when nothing
 * fails, or when no single part tells them apart.
 */
export function sharedByFailing(
  instrument: Instrument,
  failing: readonly Fingering[],
  speaking: readonly Fingering[],
): SharedPart[] {
  const [example, ...others] = failing;
  if (example === undefined) return [];
  const usedBySpeaking = new Set(
    speaking.flatMap((fingering) => partsOf(instrument, fingering).map(nameUse)),
  );
  const usedByOthers = others.map((fingering) => new Set(partsOf(instrument, fingering).map(nameUse)));
  return partsOf(instrument, example).filter((use) => {
    const name = nameUse(use);
    return !usedBySpeaking.has(name) && usedByOthers.every((names) => names.has(name));
  });
}

function nameUse({ part, relation }: SharedPart): string {
  return `${relation} ${part}`;
}

function findParts(instrument: Instrument, fingering: Fingering): SharedPart[] {
  const { machine, settled, state } = instrument.workings;
  const plan = planOf(instrument, fingering);
  settle(machine, plan.touchesDown, state, settled);
  const worked = instrument.keys.filter((key) => settled.short[machine.driverIndex.get(key.id)!]! < Infinity);
  const inColumn = (index: number) => index <= plan.first || machine.isRegisterVent[index] === 1;
  const closed = instrument.vents.filter((_, index) => index < plan.first && plan.settled.open[index] === 0);
  const open = instrument.vents.filter(
    (_, index) =>
      plan.settled.open[index] === 1 && (index === plan.first || machine.isRegisterVent[index] === 1),
  );
  const links = instrument.links.filter((link) => standsOtherwiseWithout(link.id, inColumn));
  return [
    ...links.map((link) => ({ part: link.id, sort: 'link' as const, relation: 'depends-on' as const })),
    ...worked.map((key) => ({ part: key.id, sort: 'key' as const, relation: 'works' as const })),
    ...open.map((vent) => ({ part: vent.id, sort: 'vent' as const, relation: 'needs-open' as const })),
    ...closed.map((vent) => ({ part: vent.id, sort: 'vent' as const, relation: 'needs-closed' as const })),
    ...fingering.touches.map((touch) => ({
      part: touch,
      sort: 'touch' as const,
      relation: 'presses' as const,
    })),
  ];

  function standsOtherwiseWithout(link: string, counts: (vent: number) => boolean): boolean {
    const fault = [{ fault: instrument.fault(`slack@${link}`), severity: 'gross' as const }];
    enterFaults(instrument.workings, fault);
    settle(machine, plan.touchesDown, state, settled);
    clearFaults(instrument.workings);
    return instrument.vents.some(
      (_, index) =>
        counts(index) && (settled.open[index] !== plan.settled.open[index] || settled.leak[index]! > 0),
    );
  }
}
