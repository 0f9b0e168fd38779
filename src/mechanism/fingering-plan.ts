import type { Instrument } from './instrument.ts';
import { midi } from './notes.ts';
import type { Fingering } from './schema.ts';
import { copySettled, type Settled, settle } from './settle.ts';
import { pressTouches } from './vent-states.ts';

/** What a fingering does on a healthy instrument, in index form. */
export type FingeringPlan = {
  readonly touchesDown: Uint8Array;
  readonly settled: Settled;
  /** Index of the hole that ends the column; the number of vents when the bell does. */
  readonly first: number;
  /** Index of the last hole that the note vents by: the first, or one that lies little below it where holes are small. */
  readonly last: number;
  /** MIDI number of the low-register note of that hole. */
  readonly base: number;
  /** MIDI number of the fingered note, as written. */
  readonly note: number;
  readonly register: number;
  readonly hasRegisterVent: boolean;
  /** The register vent that is this note's own hole (a short column can speak through it), or -1. */
  readonly speakingVent: number;
};

/** The plan of a fingering, made on first use. Any object of the right shape will do, not only those of the data. */
export function planOf(instrument: Instrument, fingering: Fingering): FingeringPlan {
  const { plans } = instrument.workings;
  let plan = plans.get(fingering);
  if (plan === undefined) {
    plan = makePlan(instrument, fingering);
    plans.set(fingering, plan);
  }
  return plan;
}

function makePlan({ workings }: Instrument, fingering: Fingering): FingeringPlan {
  const { machine } = workings;
  pressTouches(workings, fingering.touches);
  settle(machine, workings.touchesDown, workings.state, workings.settled);
  const settled = copySettled(workings.settled);
  const speakingVent = fingering.register === 1 ? findSpeakingVent() : -1;
  // In the third register the highest open hole only vents; the next one ends the column.
  const first = findOpenHole(fingering.register === 3 ? 1 : 0);
  const base = first < machine.ventCount ? machine.ventNote[first]! : machine.lowestNote;
  let last = first;
  while (last + 1 < machine.ventCount && base - machine.ventNote[last + 1]! <= machine.ventsOver) last += 1;
  return {
    touchesDown: workings.touchesDown.slice(),
    settled,
    first,
    last,
    base,
    note: midi(fingering.note),
    register: fingering.register,
    hasRegisterVent: machine.registerVents.some((vent) => settled.open[vent] === 1),
    speakingVent,
  };

  function findSpeakingVent(): number {
    return (
      machine.registerVents.find((vent) => machine.hasNote[vent] === 1 && settled.open[vent] === 1) ?? -1
    );
  }

  function findOpenHole(skip: number): number {
    let left = skip;
    for (let vent = 0; vent < machine.ventCount; vent += 1) {
      if (settled.open[vent] === 0 || (machine.isRegisterVent[vent] === 1 && vent !== speakingVent)) continue;
      if (left === 0) return vent;
      left -= 1;
    }
    return machine.ventCount;
  }
}
