import { degreeOf, distanceIndex, favoursNextRegister, lossOfWeight } from './distance-law.ts';
import { causeDegree } from './fault-state.ts';
import { type FingeringPlan, planOf } from './fingering-plan.ts';
import type { Instrument, Workings } from './instrument.ts';
import type { Degree, Fingering, PlacedFault } from './schema.ts';
import { settleDrivers, settleVent } from './settle.ts';
import { SHUT, STRENGTH } from './severity.ts';
import { predictOnTube } from './tube-effect.ts';
import { clearFaults, enterFaults } from './vent-states.ts';

/**
 * How a note answers. `degree` is how much the air column is disturbed; `octaveUp` that it favours the next register (the
 * octave, on a clarinet the twelfth);
 * `sounded` the MIDI number (written pitch) of the note that the column gives when that is not the fingered one: a
 * `degree` of 'none' beside it means that the wrong note speaks cleanly, 'severe' that it hardly speaks at all.
 */
export type NoteEffect = {
  readonly degree: Degree;
  readonly octaveUp: boolean;
  readonly sounded: number | null;
};

const DEGREES: readonly Degree[] = ['none', 'slight', 'clear', 'severe'];
const HEALTHY: NoteEffect = { degree: 'none', octaveUp: false, sounded: null };
/** A hole open this many semitones above the fingered one still gives its own note; higher up the rest of the closed
 * tube below makes it unsure. Common practice, no source. */
const OWN_NOTE_REACH = 2;
/** What it does to a note when a hole that should help its register stays shut: the lower octave sounds along (reported of
 * the flute’s D and E flat with the first finger left down). */
const CLEAR = 2;

/**
 * How a note answers with these faults, worked out from where the mechanism comes to stand.
 *
 * - The highest open tone hole sets the note; leaks above it disturb it by the distance law; leaks below it do not.
 * - Where holes are small the note vents by the next ones too: it is dull (slight) when one of these is shut or much too low.
 * - A register vent open, or leaking, where the fingering does not want it disturbs by its own measured loss, in the
 *   resonance of the fingering's register. A leak counts as half its strength of an open vent, up to the whole: that
 *   is the ratio of the half-leaking to the open neck pip in the acoustic tables. So the wrong vent in the second
 *   register disturbs the lowest of its notes most, as is reported of a switch that fails.
 * - A second-register fingering with no register vent open gives the note of the first register.
 * - A tone hole that stands open above the one that ends the column only helps the register; shut, the note is impure.
 * - A register vent with a note of its own is an ordinary hole for the first-register fingerings that open it.
 * - For a third-register fingering no single hole sets the note: whatever stands otherwise than it should, down to the
 *   hole that ends the column, spoils it, the more the more it leaks: the holes that help move the quiet places, so the
 *   distance law does not hold there.
 * On a brass tube other rules hold: see predictOnTube.
 * @param pressed vents that somebody presses shut by hand.
 * @throws RangeError for an unknown fault or vent.
 */
export function predictNote(
  instrument: Instrument,
  fingering: Fingering,
  faults: readonly PlacedFault[],
  pressed: readonly string[] = [],
): NoteEffect {
  for (const vent of pressed) instrument.vent(vent);
  if (instrument.tubeWorkings !== null) return predictOnTube(instrument.tubeWorkings, fingering, faults);
  const { workings } = instrument;
  const plan = planOf(instrument, fingering);
  enterFaults(workings, faults);
  if (pressed.length === 0 && isOutOfReach(workings, plan)) {
    clearFaults(workings);
    return HEALTHY;
  }
  settleAround(workings, plan);
  for (const vent of pressed) pressShut(workings, vent);
  const effect = fingering.register === 3 ? harmonicEffect(instrument, plan) : columnEffect(instrument, plan);
  clearFaults(workings);
  return effect;
}

/** Whether everything that the entered faults can move lies below the holes that the note vents by. */
function isOutOfReach({ active }: Workings, plan: FingeringPlan): boolean {
  for (const { from } of active) if (from <= plan.last) return false;
  return true;
}

/** Settles only what the entered faults can move; everything else stands as the plan has it. */
function settleAround({ machine, settled, state, active }: Workings, plan: FingeringPlan): void {
  settled.open.set(plan.settled.open);
  settled.leak.set(plan.settled.leak);
  settled.restricted.set(plan.settled.restricted);
  let movesDrivers = false;
  for (const entry of active) movesDrivers ||= entry.movesDrivers;
  if (movesDrivers) {
    settleDrivers(machine, plan.touchesDown, state, settled);
  } else {
    settled.short.set(plan.settled.short);
    settled.lag.set(plan.settled.lag);
    settled.crack.fill(0);
    settled.sag.fill(0);
  }
  for (const { vents } of active) {
    for (let index = 0; index < vents.length; index += 1) settleVent(machine, vents[index]!, state, settled);
  }
}

/** A hand on the cup seals it, unless its pad is missing; a blocked vent lets no air by without a pad either. */
function pressShut(workings: Workings, vent: string): void {
  const index = workings.machine.ventIndex.get(vent)!;
  workings.settled.open[index] = 0;
  workings.settled.restricted[index] = 0;
  const { padLost, blocked } = workings.state;
  workings.settled.leak[index] = blocked[index]! > 0 ? 0 : padLost[index]!;
}

/**
 * Loss in decibels of the first and second resonance, by the distance law; 0 for third-register fingerings. Only their
 * order means anything: the classes that {@link predictNote} gives are all that may be shown.
 */
export function predictLosses(
  instrument: Instrument,
  fingering: Fingering,
  faults: readonly PlacedFault[],
): { readonly first: number; readonly second: number } {
  const { weights } = instrument.workings;
  weights.fill(0);
  predictNote(instrument, fingering, faults);
  return { first: lossOfWeight(weights[0]!), second: lossOfWeight(weights[1]!) };
}

/** First and second register: the first open hole, the leaks above it, the register vents. */
function columnEffect(instrument: Instrument, plan: FingeringPlan): NoteEffect {
  const { workings } = instrument;
  const { machine, settled, state } = workings;
  const { open, leak, restricted } = settled;
  let first = 0;
  const isHole = (vent: number) =>
    (machine.isRegisterVent[vent] === 0 || vent === plan.speakingVent) && !plan.helpers.includes(vent);
  while (first < machine.ventCount && !(isHole(first) && open[first] === 1)) first += 1;
  const base = first < machine.ventCount ? machine.ventNote[first]! : machine.lowestNote;

  let weight1 = 0;
  let weight2 = 0;
  for (let vent = 0; vent < first; vent += 1) {
    const strength = leak[vent]! * machine.ventSize[vent]!;
    if (strength === 0 || !isHole(vent)) continue;
    const distance = distanceIndex(machine.ventNote[vent]! - base);
    weight1 += strength * machine.leakTables[0][distance]!;
    weight2 += strength * machine.leakTables[1][distance]!;
  }

  let register = plan.register;
  let degree = 0;
  let hasVent = false;
  for (const vent of machine.registerVents) {
    if (vent === plan.speakingVent) continue;
    const loss = machine.ventLoss[vent]!;
    let share = Math.min(1, leak[vent]! / 2);
    if (open[vent] === 1) {
      hasVent = true;
      const isWanted = plan.settled.open[vent] === 1;
      share = isWanted ? 0 : 1 - restricted[vent]!;
      if (isWanted) degree = Math.max(degree, degreeOfShortfall(restricted[vent]!));
    }
    if (share === 0) continue;
    weight1 += share * loss.mode1[base - machine.lowestNote]!;
    weight2 += share * loss.mode2[base - machine.lowestNote]!;
  }
  if (register === 2 && plan.hasRegisterVent && !hasVent) register = 1;
  for (const helper of plan.helpers)
    degree = Math.max(degree, open[helper] === 1 ? degreeOfShortfall(restricted[helper]!) : CLEAR);

  for (let joint = 0; joint < machine.jointLoss.length; joint += 1) {
    const strength = state.jointLeak[joint]!;
    if (strength === 0) continue;
    weight1 += strength * machine.jointLoss[joint]!.mode1[base - machine.lowestNote]!;
    weight2 += strength * machine.jointLoss[joint]!.mode2[base - machine.lowestNote]!;
  }

  workings.weights[0] = weight1;
  workings.weights[1] = weight2;
  degree = Math.max(degree, degreeOf(register === 1 ? weight1 : weight2), boreDegree(instrument, first));
  if (first < machine.ventCount) degree = Math.max(degree, degreeOfShortfall(restricted[first]!));
  degree = Math.max(degree, dullnessBelow(workings, plan, first));
  const rise = base - plan.base;
  if (rise > 0) degree = Math.max(degree, rise <= OWN_NOTE_REACH ? 2 : 3);
  const isOff = base !== plan.base || register !== plan.register;
  return finishEffect(instrument, plan, {
    degree,
    octaveUp: register === 1 && favoursNextRegister(weight1, weight2),
    sounded: isOff ? base + (register - 1) * machine.overblow : null,
  });
}

/** A hole shut, or nearly so, among those below the first that the note vents by too. */
function dullnessBelow({ settled }: Workings, plan: FingeringPlan, first: number): number {
  for (let vent = first + 1; vent <= plan.last; vent += 1) {
    if (plan.settled.open[vent] === 0) continue;
    if (settled.open[vent] === 0 || degreeOfShortfall(settled.restricted[vent]!) > 1) return 1;
  }
  return 0;
}

/** Third register: compare what stands otherwise than it should, down to the hole that ends the column. */
function harmonicEffect(instrument: Instrument, plan: FingeringPlan): NoteEffect {
  const { machine, settled, state } = instrument.workings;
  const fromLowest = plan.base - machine.lowestNote;
  let degree = boreDegree(instrument, plan.first);
  const last = Math.min(plan.first, machine.ventCount - 1);
  for (let vent = 0; vent <= last; vent += 1) {
    if (settled.open[vent] !== plan.settled.open[vent]) degree = 3;
    degree = Math.max(
      degree,
      degreeOfTrouble(settled.leak[vent]!),
      degreeOfShortfall(settled.restricted[vent]!),
    );
  }
  for (let joint = 0; joint < machine.jointLoss.length; joint += 1) {
    if (machine.jointLoss[joint]!.mode1[fromLowest]! > 0)
      degree = Math.max(degree, degreeOfTrouble(state.jointLeak[joint]!));
  }
  return finishEffect(instrument, plan, { degree, octaveUp: false, sounded: null });
}

function degreeOfTrouble(strength: number): number {
  if (strength === 0) return 0;
  return strength < STRENGTH.moderate ? 1 : 3;
}

/** A hole that opens a little too little is stuffy (slight), one that opens much too little clearly so. */
function degreeOfShortfall(restricted: number): number {
  if (restricted === 0) return 0;
  return restricted * SHUT < STRENGTH.moderate ? 1 : 2;
}

/** What lies in the bore hinders the notes whose column reaches past it. */
function boreDegree({ workings: { machine, state } }: Instrument, first: number): number {
  let degree = 0;
  for (let bore = 0; bore < machine.boreAfter.length; bore += 1) {
    if (state.boreDegree[bore]! > degree && first > machine.boreAfter[bore]!)
      degree = state.boreDegree[bore]!;
  }
  return degree;
}

function finishEffect(
  instrument: Instrument,
  plan: FingeringPlan,
  effect: { degree: number; octaveUp: boolean; sounded: number | null },
): NoteEffect {
  let { degree, octaveUp } = effect;
  const { machine, state } = instrument.workings;
  const { causeSize } = state;
  for (let cause = 0; cause < causeSize.length; cause += 1) {
    if (causeSize[cause] === 0) continue;
    const trouble = causeDegree(machine.causes[cause]!, plan.note, causeSize[cause]!);
    degree = Math.max(degree, trouble.degree);
    octaveUp ||= trouble.octaveUp;
  }
  if (degree === 0 && effect.sounded === null) return HEALTHY;
  return { degree: DEGREES[degree]!, octaveUp, sounded: effect.sounded };
}
