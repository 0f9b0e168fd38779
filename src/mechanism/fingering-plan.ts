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
  /** Tone holes that stand open above the one that ends the column: they only help the register to speak. */
  readonly helpers: readonly number[];
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
  const openHoles = findOpenHoles();
  const ending = findEnding();
  const first = openHoles[ending] ?? machine.ventCount;
  const base = noteOf(first);
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
    helpers: openHoles.slice(0, ending),
  };

  function findSpeakingVent(): number {
    return (
      machine.registerVents.find((vent) => machine.hasNote[vent] === 1 && settled.open[vent] === 1) ?? -1
    );
  }

  function findOpenHoles(): number[] {
    return [...settled.open.keys()].filter(
      (vent) => settled.open[vent] === 1 && (machine.isRegisterVent[vent] === 0 || vent === speakingVent),
    );
  }

  function noteOf(hole: number): number {
    return hole < machine.ventCount ? machine.ventNote[hole]! : machine.lowestNote;
  }

  /**
   * Which of the open holes ends the column, counted from the highest. In the first register it is the highest. In a higher
   * one it is the first that the note is an overtone of, and what stands open above it helps: on a flute the first finger’s
   * hole for D and E flat. In the third register the highest hole always helps; where no hole fits, the next one ends.
   */
  function findEnding(): number {
    if (fingering.register === 1) return 0;
    const least = fingering.register === 3 ? 1 : 0;
    const overtones = fingering.register === 3 ? machine.higherResonances : [machine.overblow];
    const ends = [...openHoles, machine.ventCount];
    const found = ends.findIndex(
      (hole, index) => index >= least && overtones.includes(midi(fingering.note) - noteOf(hole)),
    );
    return found === -1 ? least : found;
  }
}
