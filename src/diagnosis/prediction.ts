/** What a hypothesis predicts for a check, as a small number (a code); hypotheses that predict the same share it. */
import {
  type Degree,
  type Instrument,
  type NoteEffect,
  type PlacedFault,
  predictNote,
} from '../mechanism/index.ts';
import type { PlannedCheck } from './check.ts';
import { gradeOf, HEALTHY, type Hypotheses, NO_FAULT, SOMETHING_ELSE } from './hypotheses.ts';
import { anyCause } from './probability.ts';
import type { VentMemory } from './vent-memory.ts';

/** The code of "something else", in every check. */
export const ELSE_CODE = 0;
/** Not yet worked out. */
export const UNKNOWN_CODE = 255;
/** Code of an answer shown with a grade (0 for the quiet answer, 1 slight to 3 gross). */
export const answerCode = (answer: number, grade: number) => 1 + answer * 4 + grade;

/** Everything that predictions are made from. */
export type Predictor = {
  readonly instrument: Instrument;
  readonly hypotheses: Hypotheses;
  readonly vents: VentMemory;
  /** Per hypothesis: the one that is left when faults that cannot be seen as a gap are taken away. */
  readonly displaced: Int32Array;
};

/** The codes of one check, filled as they are asked for, and what note and history codes stand for. */
export type Predictions = {
  readonly planned: PlannedCheck;
  readonly codes: Uint8Array;
  /** Note effects by code, from 1 on. */
  readonly effects: NoteEffect[];
  readonly effectCodes: Map<number, number>;
  /** Chances by code of a history check, from 1 on. */
  readonly chances: number[];
};

const DEGREE_NUMBER: Readonly<Record<Degree, number>> = { none: 0, slight: 1, clear: 2, severe: 3 };

/** Starts the predictions of a check. Signs and histories are filled at once, the rest when asked for. */
export function startPredictions(predictor: Predictor, planned: PlannedCheck): Predictions {
  const { hypotheses } = predictor;
  const predictions: Predictions = {
    planned,
    codes: new Uint8Array(hypotheses.count).fill(UNKNOWN_CODE),
    effects: [],
    effectCodes: new Map(),
    chances: [],
  };
  if (planned.plan.by === 'sign') fillSigns(hypotheses, planned, planned.plan.shows, predictions.codes);
  if (planned.plan.by === 'history') fillHistory(hypotheses, planned.plan, predictions);
  predictions.codes[SOMETHING_ELSE] = ELSE_CODE;
  return predictions;
}

/** Works out every code that is still missing. */
export function completePredictions(predictor: Predictor, predictions: Predictions): Uint8Array {
  const { codes } = predictions;
  for (let hypothesis = 0; hypothesis < codes.length; hypothesis += 1) {
    if (codes[hypothesis] === UNKNOWN_CODE) predict(predictor, predictions, hypothesis);
  }
  return codes;
}

/** The code of one hypothesis, worked out and kept. */
export function predict(predictor: Predictor, predictions: Predictions, hypothesis: number): number {
  const known = predictions.codes[hypothesis]!;
  if (known !== UNKNOWN_CODE) return known;
  const code = workOut(predictor, predictions, hypothesis);
  predictions.codes[hypothesis] = code;
  return code;
}

function workOut(predictor: Predictor, predictions: Predictions, hypothesis: number): number {
  const { instrument, hypotheses, vents, displaced } = predictor;
  const { plan, quiet, named } = predictions.planned;
  const shown = (answer: number, grade: number) =>
    grade === 0 ? answerCode(quiet, 0) : answerCode(named[answer]!, grade);
  const placed = hypotheses.placed[hypothesis]!;
  switch (plan.by) {
    case 'note':
      return effectCode(predictions, predictNote(instrument, plan.fingering, placed));
    case 'sealing': {
      const { isOpen, leak } = vents.standing(plan.touches, hypothesis, plan.vent);
      return shown(0, isOpen ? 3 : leak);
    }
    case 'stirring': {
      const { isOpen, leak } = vents.standing(plan.touches, displaced[hypothesis]!, plan.vent);
      return shown(0, isOpen ? 3 : leak);
    }
    case 'landing': {
      const own = gapOf(vents.standing(plan.touches, displaced[hypothesis]!, plan.own));
      const target = gapOf(vents.standing(plan.touches, displaced[hypothesis]!, plan.target));
      return target > own ? shown(0, target) : shown(1, own > target ? own : 0);
    }
    case 'opening': {
      const { isOpen, shortfall } = vents.standing(plan.touches, displaced[hypothesis]!, plan.vent);
      return isOpen ? shown(0, shortfall) : shown(1, 3);
    }
    case 'rising': {
      const { isOpen, shortfall } = vents.standing([], displaced[hypothesis]!, plan.vent);
      return shown(0, isOpen ? shortfall : 3);
    }
    case 'pressing': {
      const before = predictNote(instrument, plan.fingering, placed);
      return shown(0, betterBy(before, predictNote(instrument, plan.fingering, placed, [plan.vent])));
    }
    case 'squeezing': {
      const before = predictNote(instrument, plan.fingering, placed);
      const left = placed.filter((fault) => !yieldsToForce(instrument, fault));
      return shown(
        0,
        left.length === placed.length ? 0 : betterBy(before, predictNote(instrument, plan.fingering, left)),
      );
    }
    case 'sign':
    case 'history':
      return answerCode(quiet, 0);
  }
}

const gapOf = ({ isOpen, leak }: { isOpen: boolean; leak: number }) => (isOpen ? 3 : leak);

/** By how many steps the second effect is better than the first; a wrong note put right counts as two. */
function betterBy(before: NoteEffect, after: NoteEffect): number {
  const steps = DEGREE_NUMBER[before.degree] - DEGREE_NUMBER[after.degree];
  const isRight = before.sounded !== null && after.sounded === null;
  return Math.max(0, isRight ? Math.max(2, steps) : steps);
}

/**
 * Whether squeezing with the fingers makes up for a fault: a link that brings a cup down late or holds it off, or a pad
 * that fingers press, or a hole that they cover badly. Springs, joints and the tube do not yield. Common practice, no source.
 */
function yieldsToForce(instrument: Instrument, { fault, severity }: PlacedFault): boolean {
  if (severity === 'gross') return false;
  if (fault.kind === 'slack' || fault.kind === 'tight') {
    return ['closes', 'holds', 'switches'].includes(instrument.link(fault.place).action);
  }
  if (fault.kind === 'uncovered') return true;
  return (fault.kind === 'leaks' || fault.kind === 'bent') && instrument.vent(fault.place).rest === 'open';
}

function effectCode({ effects, effectCodes }: Predictions, effect: NoteEffect): number {
  const key = DEGREE_NUMBER[effect.degree] + (effect.octaveUp ? 4 : 0) + 8 * ((effect.sounded ?? -1) + 1);
  let code = effectCodes.get(key);
  if (code === undefined) {
    effects.push(effect);
    code = effects.length;
    effectCodes.set(key, code);
  }
  return code;
}

function fillSigns(
  hypotheses: Hypotheses,
  { quiet }: PlannedCheck,
  shows: ReadonlyMap<number, number>,
  codes: Uint8Array,
): void {
  codes.fill(answerCode(quiet, 0));
  for (const [fault, answer] of shows) {
    for (const hypothesis of hypotheses.having[fault]!) {
      const placed = hypotheses.placed[hypothesis]!.find(
        ({ fault: { id } }) => id === hypotheses.faults[fault]!.id,
      )!;
      codes[hypothesis] = answerCode(answer, gradeOf(placed.severity));
    }
  }
}

/**
 * The chance of what went before when two faults are there. Those that make it likelier are causes beside what there is anyhow (the
 * chance without a cause is in every single figure already, so it is taken out); one that makes it rarer takes its share off.
 */
function chanceOfBoth(own: readonly number[], otherwise: number): number {
  const causes = own.filter((chance) => chance >= otherwise);
  const others = own.filter((chance) => chance < otherwise);
  const raised = anyCause([otherwise, ...causes.map((chance) => (chance - otherwise) / (1 - otherwise))]);
  return others.reduce((product, chance) => (product * chance) / otherwise, raised);
}

function fillHistory(
  { first, second, count }: Hypotheses,
  plan: { readonly chances: Float64Array; readonly otherwise: number },
  { codes, chances }: Predictions,
): void {
  for (let hypothesis = HEALTHY; hypothesis < count; hypothesis += 1) {
    const causes = [first[hypothesis]!, second[hypothesis]!].filter((fault) => fault !== NO_FAULT);
    const own = causes.map((fault) => plan.chances[fault]!);
    const chance = own.length < 2 ? (own[0] ?? plan.otherwise) : chanceOfBoth(own, plan.otherwise);
    let code = chances.indexOf(chance) + 1;
    if (code === 0) code = chances.push(chance);
    codes[hypothesis] = code;
  }
}
