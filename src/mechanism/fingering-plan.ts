import type { Instrument } from './instrument.ts';
import { midi } from './notes.ts';
import type { Fingering } from './schema.ts';
import { settle } from './settle.ts';
import { clearFaults, pressTouches } from './vent-states.ts';

/** What a fingering does on a healthy instrument, in index form. */
export type FingeringPlan = {
  readonly touchesDown: Uint8Array;
  readonly open: Uint8Array;
  /** Index of the hole that ends the column; the number of vents when the bell does. */
  readonly first: number;
  /** MIDI number of the low-register note of that hole. */
  readonly base: number;
  /** MIDI number of the fingered note, as written. */
  readonly note: number;
  readonly register: number;
  readonly hasRegisterVent: boolean;
};

const plans = new WeakMap<Instrument, WeakMap<Fingering, FingeringPlan>>();

/** The plan of a fingering, made on first use. Any object of the right shape will do, not only those of the data. */
export function planOf(instrument: Instrument, fingering: Fingering): FingeringPlan {
  let known = plans.get(instrument);
  if (known === undefined) {
    known = new WeakMap();
    plans.set(instrument, known);
  }
  const plan = known.get(fingering) ?? makePlan(instrument, fingering);
  known.set(fingering, plan);
  return plan;
}

function makePlan({ workings }: Instrument, fingering: Fingering): FingeringPlan {
  const { machine, settled } = workings;
  pressTouches(workings, fingering.touches);
  clearFaults(workings, []);
  settle(machine, workings.touchesDown, workings.state, settled);
  // In the third register the highest open hole only vents; the next one ends the column.
  const first = openHole(fingering.register === 3 ? 1 : 0);
  return {
    touchesDown: workings.touchesDown.slice(),
    open: settled.open.slice(),
    first,
    base: first < machine.ventCount ? machine.ventNote[first]! : machine.lowestNote,
    note: midi(fingering.note),
    register: fingering.register,
    hasRegisterVent: machine.registerVents.some((vent) => settled.open[vent] === 1),
  };

  function openHole(skip: number): number {
    let left = skip;
    for (let vent = 0; vent < machine.ventCount; vent += 1) {
      if (machine.isRegisterVent[vent] || settled.open[vent] === 0) continue;
      if (left === 0) return vent;
      left -= 1;
    }
    return machine.ventCount;
  }
}
