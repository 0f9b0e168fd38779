import {
  higherResonancesOf,
  leakTables,
  overblowOf,
  sizeOfHole,
  ventsOver,
  weightOfLoss,
} from './distance-law.ts';
import { midi } from './notes.ts';
import type { Cause, LossPoint, MechanismFile, Motion } from './schema.ts';

/** No link, no switch: the motion is rigid or unconditional. */
export const NONE = -1;

/** One motion, by index. Drivers count the touches first and then the keys, each key after the keys that drive it. */
export type CompiledMotion = {
  readonly driver: number;
  /** Index of the driven key among the drivers, or NONE when a vent is driven. */
  readonly key: number;
  readonly vent: number;
  /** True for opens and raises; false for closes, holds and presses. */
  readonly opens: boolean;
  readonly link: number;
  readonly switchLink: number;
  readonly whenEngaged: boolean;
  /** All that its driver moves, through a link that closes: with nothing to keep off, a tight link presses at rest. */
  readonly isAlone: boolean;
};

/** An instrument's mechanism in index form, with room to work in; built once, used for every prediction. */
export type Machine = {
  readonly driverIndex: ReadonlyMap<string, number>;
  readonly ventIndex: ReadonlyMap<string, number>;
  readonly linkIndex: ReadonlyMap<string, number>;
  readonly touchCount: number;
  readonly driverCount: number;
  readonly ventCount: number;
  readonly motions: readonly CompiledMotion[];
  /** Motions by the driver they start from, for every driver. */
  readonly motionsFrom: readonly (readonly CompiledMotion[])[];
  /** Motions by the driver (a key) they end at. */
  readonly motionsToKey: readonly (readonly CompiledMotion[])[];
  readonly openersOf: readonly (readonly CompiledMotion[])[];
  readonly closersOf: readonly (readonly CompiledMotion[])[];
  /** Per link: the drivers that throw it, empty for a link that does not switch. */
  readonly switchDrivers: readonly (readonly number[])[];
  /** Switching links by the driver that throws them. */
  readonly switchesFrom: readonly (readonly number[])[];
  /** Per link: whether tightness cracks the driven part open at rest (opens, raises) or props the driver (the rest). */
  readonly linkOpens: Uint8Array;
  readonly restsOpen: Uint8Array;
  readonly springOpens: Uint8Array;
  readonly isRegisterVent: Uint8Array;
  /** MIDI number of the low-register note of each vent; the lowest note, unused, for register vents that have none. */
  readonly ventNote: Int16Array;
  /** Whether a vent has a note of its own, as a few register vents have. */
  readonly hasNote: Uint8Array;
  /** What the size of its hole makes of a leak, 1 for a hole of the usual size. */
  readonly ventSize: Float64Array;
  /** Weights of leaks by resonance and distance, for this shape of air column. */
  readonly leakTables: readonly [Float64Array, Float64Array];
  /** Semitones from the first register to the second. */
  readonly overblow: number;
  /** Semitones below its first open hole over which a note still vents. */
  readonly ventsOver: number;
  /** Semitones from the first register to the resonances above the second. */
  readonly higherResonances: readonly number[];
  readonly lowestNote: number;
  readonly registerVents: readonly number[];
  /** Per vent: weights of an open register vent by mode and low-register note; null for tone holes. */
  readonly ventLoss: readonly (LossTable | null)[];
  readonly jointLoss: readonly LossTable[];
  readonly boreAfter: readonly number[];
  readonly causes: readonly (readonly CauseEffect[])[];
};

/** A range of written notes (MIDI numbers, both included) and the degree, 1 slight to 3 severe, that a moderate cause has there. */
export type CauseEffect = {
  readonly from: number;
  readonly to: number;
  readonly degree: number;
  readonly octaveUp: boolean;
};

/** Weights of the distance law's bracket for modes 1 and 2, indexed by semitones above the lowest note. */
export type LossTable = { readonly mode1: Float64Array; readonly mode2: Float64Array };

const DEGREE_NUMBER = { slight: 1, clear: 2, severe: 3 } as const;

/** The effects of a cause in numbers. */
export function effectsOf({ effects }: Cause): CauseEffect[] {
  return effects.map(({ from, to, degree, octaveUp = false }) => ({
    from: midi(from),
    to: midi(to),
    degree: DEGREE_NUMBER[degree],
    octaveUp,
  }));
}

/** Turns checked data into index form. References must hold (see findBrokenReferences). */
export function buildMachine(mechanism: MechanismFile): Machine {
  const { vents, touches, links } = mechanism;
  const keys = orderKeys(mechanism);
  const drivers = [...touches, ...keys];
  const driverIndex = indexOf(drivers);
  const ventIndex = indexOf(vents);
  const linkIndex = indexOf(links);
  const motions = drivers.flatMap((driver, index) =>
    driver.moves.map((motion) => ({
      ...compileMotion(motion, index, { driverIndex, ventIndex, linkIndex }),
      isAlone:
        driver.moves.length === 1 &&
        links.some(({ id, action }) => id === motion.link && action === 'closes'),
    })),
  );
  const { acoustics, range } = mechanism.instrument;
  const lowestNote = midi(range.lowest);
  const highestNote = Math.max(...vents.map((vent) => (vent.note === null ? lowestNote : midi(vent.note))));
  const switchDrivers = links.map((link) => (link.drivenBy ?? []).map((id) => driverIndex.get(id)!));
  const table = (loss: readonly LossPoint[]) => lossTable(loss, lowestNote, highestNote);
  return {
    driverIndex,
    ventIndex,
    linkIndex,
    touchCount: touches.length,
    driverCount: drivers.length,
    ventCount: vents.length,
    motions,
    motionsFrom: drivers.map((_, index) => motions.filter((motion) => motion.driver === index)),
    motionsToKey: drivers.map((_, index) => motions.filter((motion) => motion.key === index)),
    openersOf: vents.map((_, index) => motions.filter((motion) => motion.vent === index && motion.opens)),
    closersOf: vents.map((_, index) => motions.filter((motion) => motion.vent === index && !motion.opens)),
    switchDrivers,
    switchesFrom: drivers.map((_, index) =>
      switchDrivers.flatMap((throwers, link) => (throwers.includes(index) ? [link] : [])),
    ),
    linkOpens: flags(links, (link) => link.action === 'opens' || link.action === 'raises'),
    restsOpen: flags(vents, (vent) => vent.rest === 'open'),
    springOpens: flags(vents, (vent) => vent.spring === 'opens'),
    isRegisterVent: flags(vents, (vent) => vent.registerVent !== undefined),
    ventNote: Int16Array.from(vents, (vent) => (vent.note === null ? lowestNote : midi(vent.note))),
    hasNote: flags(vents, (vent) => vent.note !== null),
    ventSize: Float64Array.from(vents, ({ holeRadius }) => sizeOfHole(acoustics, holeRadius)),
    leakTables: leakTables(acoustics),
    overblow: overblowOf(acoustics),
    ventsOver: ventsOver(acoustics),
    higherResonances: higherResonancesOf(acoustics),
    lowestNote,
    registerVents: vents.flatMap((vent, index) => (vent.registerVent === undefined ? [] : [index])),
    ventLoss: vents.map((vent) => (vent.registerVent === undefined ? null : table(vent.registerVent.loss))),
    jointLoss: mechanism.joints.map((joint) => table(joint.loss!)),
    boreAfter: mechanism.bores.map((bore) => ventIndex.get(bore.after!)!),
    causes: mechanism.causes.map(effectsOf),
  };
}

function flags<Item>(items: readonly Item[], holds: (item: Item) => boolean): Uint8Array {
  return Uint8Array.from(items, (item) => (holds(item) ? 1 : 0));
}

function indexOf(parts: readonly { readonly id: string }[]): Map<string, number> {
  return new Map(parts.map((part, index) => [part.id, index]));
}

/** The vents that can stand otherwise when a link carries too much or too little: all that its drivers, and whatever drives those, move. */
export function ventsOfLink(machine: Machine, link: number): number[] {
  const carried = machine.motions.filter((motion) => motion.link === link || motion.switchLink === link);
  const thrown = machine.switchDrivers[link]!.flatMap((driver) => ventsAbout(machine, driver));
  return unique([...thrown, ...carried.flatMap((motion) => ventsAbout(machine, motion.driver))]);
}

/** The vents that a driver, or whatever drives it, moves. */
export function ventsAbout(machine: Machine, driver: number): number[] {
  const up = machine.motionsToKey[driver]!.flatMap((motion) => ventsAbout(machine, motion.driver));
  return unique([...up, ...ventsBelow(machine, driver)]);
}

function ventsBelow(machine: Machine, driver: number): number[] {
  return machine.motionsFrom[driver]!.flatMap(({ key, vent }) =>
    key === NONE ? [vent] : ventsBelow(machine, key),
  );
}

function unique(numbers: readonly number[]): number[] {
  return [...new Set(numbers)];
}

/** The keys with every key after those that drive it. */
function orderKeys(mechanism: MechanismFile): MechanismFile['keys'] {
  const ordered: MechanismFile['keys'] = [];
  const waiting = [...mechanism.keys];
  while (waiting.length > 0) {
    const next = waiting.findIndex(
      (key) => !waiting.some((other) => other.moves.some(({ part }) => part === key.id)),
    );
    ordered.push(...waiting.splice(next, 1));
  }
  return ordered;
}

type Indexes = Pick<Machine, 'driverIndex' | 'ventIndex' | 'linkIndex'>;

function compileMotion(motion: Motion, driver: number, indexes: Indexes): Omit<CompiledMotion, 'isAlone'> {
  return {
    driver,
    key: indexes.driverIndex.get(motion.part) ?? NONE,
    vent: indexes.ventIndex.get(motion.part) ?? NONE,
    opens: motion.action === 'opens' || motion.action === 'raises',
    link: motion.link === undefined ? NONE : indexes.linkIndex.get(motion.link)!,
    switchLink: motion.when === undefined ? NONE : indexes.linkIndex.get(motion.when.link)!,
    whenEngaged: motion.when?.engaged ?? true,
  };
}

/** Straight lines between the given points by semitone; beyond the ends the nearest point holds. */
function lossTable(points: readonly LossPoint[], lowest: number, highest: number): LossTable {
  const sorted = points
    .map((point) => ({ ...point, at: midi(point.note) }))
    .sort((one, other) => one.at - other.at);
  const read = (note: number, mode: 'mode1' | 'mode2'): number => {
    const above = sorted.findIndex((point) => point.at >= note);
    const right = sorted[above === -1 ? sorted.length - 1 : above]!;
    const left = sorted[Math.max(0, above === -1 ? sorted.length - 1 : above - 1)]!;
    const share = right.at === left.at ? 0 : Math.max(0, (note - left.at) / (right.at - left.at));
    return weightOfLoss(left[mode] + share * (right[mode] - left[mode]));
  };
  const row = (mode: 'mode1' | 'mode2') =>
    Float64Array.from({ length: highest - lowest + 1 }, (_, index) => read(lowest + index, mode));
  return { mode1: row('mode1'), mode2: row('mode2') };
}
