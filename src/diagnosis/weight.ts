/** What one finding says about every hypothesis. */
import { midi, nextRegister } from '../mechanism/index.ts';
import { checkChance, noteChance } from './answering.ts';
import { NOTE_ANSWERS } from './check.ts';
import { conditionChances, FIT, shortfalls } from './conditions.ts';
import type { ReadFinding } from './finding.ts';
import type { DiagnosisModel } from './model.ts';
import type { ShortDegree } from './people-schema.ts';
import { completePredictions } from './prediction.ts';
import type { Person } from './schema.ts';

/** The chance of one answer, by the code that a hypothesis predicts. */
export type Weight = {
  readonly codes: Uint8Array;
  /** By code: P(answer | code), and its natural logarithm, of somebody who is fit to play and does not misjudge the part. */
  readonly chances: Float64Array;
  readonly logs: Float64Array;
  /** For a note where somebody falls short: the chances in each condition (entry FIT is `chances`); null elsewhere. */
  readonly byCondition: readonly Float64Array[] | null;
  /** By condition: how many times as likely the answer is in it, by code; null where it makes no difference. */
  readonly ratios: readonly (Float64Array | null)[] | null;
  /** For a look at a part: chance that all this person says of the part is worth nothing, and of this answer then. */
  readonly misjudged: { readonly place: string; readonly share: number; readonly chance: number } | null;
  /** log P(this answer) before anything is known. */
  readonly logSingle: number;
  readonly isNote: boolean;
};

const weights = new WeakMap<DiagnosisModel, Map<string, Weight>>();

/** What an answer weighs, by code; kept, because the same answer weighs the same in every run. */
export function weightOf(model: DiagnosisModel, read: ReadFinding, person: Person): Weight {
  const known = weights.get(model) ?? new Map<string, Weight>();
  weights.set(model, known);
  const key = `${person} ${read.key}`;
  const weight = known.get(key) ?? weigh(model, read, person);
  known.set(key, weight);
  return weight;
}

function weigh(model: DiagnosisModel, read: ReadFinding, person: Person): Weight {
  const predictions = model.predictions(read.position);
  const codes = completePredictions(model.predictor, predictions);
  const isNote = predictions.planned.plan.by === 'note';
  const byCondition = isNote ? noteChances(model, read, person) : null;
  const misjudged = isNote ? null : misjudgement(model, read, person);
  const chances = byCondition?.[FIT] ?? checkChances(model, read, person, misjudged === null);
  const isTold = byCondition?.some((row) => row !== chances) === true;
  const weight = {
    codes,
    chances,
    logs: chances.map(Math.log),
    byCondition: isTold ? byCondition : null,
    ratios: isTold ? byCondition!.map((row) => ratiosOf(row, chances)) : null,
    misjudged,
    isNote,
  };
  const overall = chancesAlone(weight, conditionChances(model, person));
  return { ...weight, logSingle: logOfAnswer(model, codes, overall) };
}

function ratiosOf(row: Float64Array, fit: Float64Array): Float64Array | null {
  return row === fit ? null : row.map((chance, code) => chance / fit[code]!);
}

/** By condition of the player, P(answer | code) by code; conditions that do not matter for this note share the row of the fit. */
function noteChances(
  model: DiagnosisModel,
  { position, answer, sounded }: ReadFinding,
  person: Person,
): Float64Array[] {
  const { planned, effects } = model.predictions(position);
  if (planned.plan.by !== 'note') return [];
  const { fingering } = planned.plan;
  const fingered = midi(fingering.note);
  const above = nextRegister(model.instrument, fingering);
  const rowOf = (short: ShortDegree | null) =>
    Float64Array.from([null, ...effects], (effect) =>
      noteChance(model, { effect, fingered, above, person, short }, NOTE_ANSWERS[answer!]!, sounded),
    );
  const fit = rowOf(null);
  const failing = { slight: rowOf('slight'), clear: rowOf('clear') };
  return shortfalls(model, fingered).map(({ share, degree }) =>
    share === 0 ? fit : fit.map((chance, code) => (1 - share) * chance + share * failing[degree][code]!),
  );
}

function checkChances(
  model: DiagnosisModel,
  { position, answer }: ReadFinding,
  person: Person,
  isBlurred: boolean,
): Float64Array {
  const predictions = model.predictions(position);
  return Float64Array.from({ length: model.rows(position, person).length }, (_, code) =>
    checkChance(model, predictions, { person, code, answer: answer! }, isBlurred),
  );
}

/** Looks at one part share their slips: who takes the wrong cup for it, does so each time. */
function misjudgement(model: DiagnosisModel, { position }: ReadFinding, person: Person): Weight['misjudged'] {
  const { place, group, answers } = model.checks[position]!;
  if (group !== 'look') return null;
  return { place, share: model.knowledge.people.blur[person].checks, chance: 1 / answers.length };
}

/**
 * P(answer | code) of a finding taken for itself, by code.
 * @param conditions chances of the player's conditions, fit first.
 */
export function chancesAlone(
  { chances, byCondition, misjudged }: Omit<Weight, 'logSingle'>,
  conditions: readonly number[],
): Float64Array {
  if (byCondition !== null) {
    return chances.map((_, code) =>
      byCondition.reduce((sum, row, condition) => sum + conditions[condition]! * row[code]!, 0),
    );
  }
  if (misjudged === null) return chances;
  return chances.map((chance) => (1 - misjudged.share) * chance + misjudged.share * misjudged.chance);
}

/** log P(this answer) before anything is known. */
function logOfAnswer(
  { hypotheses: { logPrior } }: DiagnosisModel,
  codes: Uint8Array,
  chances: Float64Array,
): number {
  let chance = 0;
  for (let hypothesis = 0; hypothesis < codes.length; hypothesis += 1) {
    chance += Math.exp(logPrior[hypothesis]!) * chances[codes[hypothesis]!]!;
  }
  return Math.log(chance);
}

/**
 * log P(all that was said of one part | hypothesis), by hypothesis: either the person judges the part, or nothing of what is
 * said of it is worth anything. @param looks at least one, all at one place.
 */
export function logOfLooks(looks: readonly Weight[]): Float64Array {
  const { share } = looks[0]!.misjudged!;
  const nothing = share * looks.reduce((product, { misjudged }) => product * misjudged!.chance, 1);
  const count = looks[0]!.codes.length;
  const logs = new Float64Array(count);
  for (let hypothesis = 0; hypothesis < count; hypothesis += 1) {
    let judged = 1 - share;
    for (const { codes, chances } of looks) judged *= chances[codes[hypothesis]!]!;
    logs[hypothesis] = Math.log(judged + nothing);
  }
  return logs;
}

/**
 * Chance that nothing of what was said of one part is worth anything, under what is believed now.
 * @param looks at least one, all at one place. @param mass of the hypotheses, summing to 1.
 */
export function nothingSaid(looks: readonly Weight[], mass: Float64Array): number {
  const { share } = looks[0]!.misjudged!;
  const nothing = share * looks.reduce((product, { misjudged }) => product * misjudged!.chance, 1);
  let sum = 0;
  for (let hypothesis = 0; hypothesis < mass.length; hypothesis += 1) {
    if (mass[hypothesis] === 0) continue;
    let judged = 1 - share;
    for (const { codes, chances } of looks) judged *= chances[codes[hypothesis]!]!;
    sum += (mass[hypothesis]! * nothing) / (judged + nothing);
  }
  return sum;
}
