/** What is believed after some findings: the posterior over all hypotheses, kept up finding by finding. */
import { midi } from '../mechanism/index.ts';
import { checkChance, noteChance } from './answering.ts';
import { NOTE_ANSWERS } from './check.ts';
import { faultNumberOf } from './fault-words.ts';
import { type ReadFinding, readFinding } from './finding.ts';
import { HEALTHY, type Hypotheses, NO_FAULT } from './hypotheses.ts';
import type { DiagnosisModel } from './model.ts';
import { completePredictions } from './prediction.ts';
import type { Finding, Person, TreatedFault } from './schema.ts';

/** Immutable. Masses sum to 1; hypotheses beyond hope have mass 0. */
export type Belief = {
  readonly person: Person | null;
  /** Natural logarithm of P(findings | hypothesis). */
  readonly logLikelihood: Float64Array;
  readonly mass: Float64Array;
  /** Per fault: chance that it is there, alone or with another. */
  readonly present: Float64Array;
  /** log P(findings), and the sum of log P(finding) of each for itself. */
  readonly logEvidence: number;
  readonly logSingles: number;
  /** Keys of the findings that have been counted: saying the same twice counts once. */
  readonly counted: ReadonlySet<string>;
  /** How fingerings have answered, by the position of their check; the last answer stands. */
  readonly notes: ReadonlyMap<number, number>;
  readonly treated: readonly TreatedFault[];
  /** How unlikely (in nats) the findings were that have been taken in since the masses were last reckoned from the logs. */
  readonly drift: number;
};

/** Below this share of the likeliest hypothesis (e to the minus 18, about 2e-8) a hypothesis is beyond hope. */
const HOPELESS = -18;

/** What is believed before anything has been found: the priors, changed by what has been treated. */
export function startBelief(model: DiagnosisModel, treated: readonly TreatedFault[] = []): Belief {
  return settleBelief(model, {
    person: null,
    logLikelihood: new Float64Array(model.hypotheses.count),
    logSingles: 0,
    counted: new Set(),
    notes: new Map(),
    treated,
  });
}

/**
 * Adds one finding. "Could not tell" changes nothing, and so does a finding that has been counted already.
 * @throws RangeError for an unknown note, fingering, check or answer.
 */
export function addFinding(model: DiagnosisModel, belief: Belief, finding: Finding, person: Person): Belief {
  const read = readFinding(model, finding);
  const { position, answer, key } = read;
  if (answer === null || belief.counted.has(key)) return belief;
  const weight = weightOf(model, read, person);
  const open: Unsettled = {
    person,
    logLikelihood: new Float64Array(belief.logLikelihood.length),
    logSingles: belief.logSingles + weight.logSingle,
    counted: new Set(belief.counted).add(key),
    notes: weight.isNote ? new Map(belief.notes).set(position, answer) : belief.notes,
    treated: belief.treated,
  };
  return carryOver(model, belief, weight, open) ?? settleBelief(model, open);
}

/** What is believed after these findings; their order does not matter. @throws RangeError as {@link addFinding}. */
export function believe(
  model: DiagnosisModel,
  findings: readonly Finding[],
  person: Person,
  treated: readonly TreatedFault[] = [],
): Belief {
  const logLikelihood = new Float64Array(model.hypotheses.count);
  const counted = new Set<string>();
  const notes = new Map<number, number>();
  let logSingles = 0;
  for (const finding of findings) {
    const read = readFinding(model, finding);
    if (read.answer === null || counted.has(read.key)) continue;
    const weight = weightOf(model, read, person);
    addLogs(weight, logLikelihood);
    logSingles += weight.logSingle;
    counted.add(read.key);
    if (weight.isNote) notes.set(read.position, read.answer);
  }
  const asked = counted.size === 0 ? null : person;
  return settleBelief(model, { person: asked, logLikelihood, logSingles, counted, notes, treated });
}

/** The same findings, believed of an instrument on which these faults have been treated. */
export function withTreated(model: DiagnosisModel, belief: Belief, treated: readonly TreatedFault[]): Belief {
  const isSame =
    treated.length === belief.treated.length &&
    treated.every(
      (one, index) => one.fault === belief.treated[index]!.fault && one.exit === belief.treated[index]!.exit,
    );
  return isSame ? belief : settleBelief(model, { ...belief, treated });
}

type Unsettled = Omit<Belief, 'mass' | 'present' | 'logEvidence' | 'drift'>;

/** What one finding says: log P(this answer | code) by code, the codes, and log P(this answer) before anything is known. */
export type Weight = {
  readonly codes: Uint8Array;
  readonly logs: Float64Array;
  readonly chances: Float64Array;
  readonly logSingle: number;
  readonly isNote: boolean;
};

// The loops below run over thousands of hypotheses for every answer; asking an array for its length in the loop's
// condition more than doubles their time.
function addLogs({ codes, logs }: Weight, logLikelihood: Float64Array): void {
  const count = logLikelihood.length;
  for (let hypothesis = 0; hypothesis < count; hypothesis += 1) {
    logLikelihood[hypothesis] = logLikelihood[hypothesis]! + logs[codes[hypothesis]!]!;
  }
}

const weights = new WeakMap<DiagnosisModel, Map<string, Weight>>();

/** What an answer weighs, by code; kept, because the same answer weighs the same in every run. */
export function weightOf(model: DiagnosisModel, read: ReadFinding, person: Person): Weight {
  const known = weights.get(model) ?? new Map<string, Weight>();
  weights.set(model, known);
  const key = `${person} ${read.key}`;
  let weight = known.get(key);
  if (weight === undefined) {
    const predictions = model.predictions(read.position);
    const codes = completePredictions(model.predictor, predictions);
    const logs = logChances(model, read, person);
    const isNote = predictions.planned.plan.by === 'note';
    const chances = logs.map(Math.exp);
    weight = { codes, logs, chances, logSingle: logSingleChance(model, codes, chances), isNote };
    known.set(key, weight);
  }
  return weight;
}

/** log P(this answer | code), by code. */
function logChances(
  model: DiagnosisModel,
  { position, answer, sounded }: ReadFinding,
  person: Person,
): Float64Array {
  const predictions = model.predictions(position);
  const { plan } = predictions.planned;
  if (plan.by === 'note') {
    const fingered = midi(plan.fingering.note);
    return Float64Array.from([null, ...predictions.effects], (effect) =>
      Math.log(noteChance(model, { effect, fingered, person }, NOTE_ANSWERS[answer!]!, sounded)),
    );
  }
  const codes = model.rows(position, person).length;
  return Float64Array.from({ length: codes }, (_, code) =>
    Math.log(checkChance(model, predictions, { person, code, answer: answer! })),
  );
}

/** log P(this answer) before anything is known. */
function logSingleChance(
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

/** So much drift (in nats) is allowed: what was beyond hope before it still is, to about 2 parts in a million. */
const MOST_DRIFT = 5;

/**
 * The quick way to the new masses: the old ones times the chance of the finding. Null when the findings since the last
 * reckoning have been so surprising that a hypothesis given up before might count again. Writes the logarithms too, in
 * the same walk through the hypotheses.
 */
function carryOver(
  model: DiagnosisModel,
  before: Belief,
  { codes, logs, chances }: Weight,
  open: Unsettled,
): Belief | null {
  const count = before.mass.length;
  const masses = before.mass;
  const logsBefore = before.logLikelihood;
  const { logLikelihood } = open;
  const mass = new Float64Array(count);
  let sum = 0;
  for (let hypothesis = 0; hypothesis < count; hypothesis += 1) {
    const code = codes[hypothesis]!;
    logLikelihood[hypothesis] = logsBefore[hypothesis]! + logs[code]!;
    const now = masses[hypothesis]! * chances[code]!;
    mass[hypothesis] = now;
    sum += now;
  }
  const drift = before.drift - Math.log(sum);
  if (!(drift < MOST_DRIFT)) return null;
  const present = presence(model.hypotheses, mass, sum);
  return { ...open, mass, present, logEvidence: before.logEvidence + Math.log(sum), drift };
}

function settleBelief(model: DiagnosisModel, open: Unsettled): Belief {
  const { hypotheses } = model;
  const logPrior = priorAfter(model, open.treated);
  const { logLikelihood } = open;
  const { count } = hypotheses;
  const mass = new Float64Array(count);
  let largest = Number.NEGATIVE_INFINITY;
  for (let hypothesis = 0; hypothesis < count; hypothesis += 1) {
    const weight = logPrior[hypothesis]! + logLikelihood[hypothesis]!;
    mass[hypothesis] = weight;
    if (weight > largest) largest = weight;
  }
  let sum = 0;
  for (let hypothesis = 0; hypothesis < count; hypothesis += 1) {
    const behind = mass[hypothesis]! - largest;
    const share = behind < HOPELESS ? 0 : Math.exp(behind);
    mass[hypothesis] = share;
    sum += share;
  }
  return {
    ...open,
    mass,
    present: presence(hypotheses, mass, sum),
    logEvidence: largest + Math.log(sum),
    drift: 0,
  };
}

/** Brings the masses to a sum of 1 and adds up those of each fault. */
function presence({ first, second, faults }: Hypotheses, mass: Float64Array, sum: number): Float64Array {
  const present = new Float64Array(faults.length);
  const count = mass.length;
  for (let hypothesis = 0; hypothesis < count; hypothesis += 1) {
    const weight = mass[hypothesis]!;
    if (weight === 0) continue;
    const share = weight / sum;
    mass[hypothesis] = share;
    const one = first[hypothesis]!;
    const other = second[hypothesis]!;
    if (one !== NO_FAULT) present[one] = present[one]! + share;
    if (other !== NO_FAULT) present[other] = present[other]! + share;
  }
  return present;
}

const treatedPriors = new WeakMap<DiagnosisModel, Map<string, Float64Array>>();

/**
 * The priors of an instrument on which faults have been treated. What mended faults leave behind keeps a small chance.
 * The rest follows from the same assumption as the pairs: beside a fault that was there, another one is there with its
 * share of the mean number of faults, so nothing else and one other fault now stand as 1 to that mean. A treatment that
 * changed nothing speaks against its fault, as far as a right treatment can fail.
 */
function priorAfter(model: DiagnosisModel, treated: readonly TreatedFault[]): Float64Array {
  const { hypotheses } = model;
  if (treated.length === 0) return hypotheses.logPrior;
  const known = treatedPriors.get(model) ?? new Map<string, Float64Array>();
  treatedPriors.set(model, known);
  const entries = [...new Set(treated.map(({ fault, exit }) => `${exit} ${fault}`))].sort();
  const key = entries.join(' ');
  let prior = known.get(key);
  if (prior === undefined) {
    prior = hypotheses.logPrior.slice();
    const { mendedResidual, unchangedResidual } = model.knowledge.people.rules;
    if (treated.some(({ exit }) => exit === 'mended')) {
      prior[HEALTHY] = Math.log(hypotheses.oneFault / hypotheses.meanFaults);
    }
    for (const entry of entries) {
      const [exit, id] = entry.split(' ') as [TreatedFault['exit'], string];
      const less = Math.log((exit === 'mended' ? mendedResidual : unchangedResidual).value);
      for (const hypothesis of hypotheses.having[faultNumberOf(model, id)]!) prior[hypothesis]! += less;
    }
    known.set(key, prior);
  }
  return prior;
}
