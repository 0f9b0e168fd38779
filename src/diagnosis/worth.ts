/** What a check is worth: the information to be expected of it, under the hypotheses that still count. */
import type { Belief } from './belief.ts';
import { NO_FAULT, SOMETHING_ELSE } from './hypotheses.ts';
import type { DiagnosisModel } from './model.ts';
import { rowsNow } from './outlook.ts';
import { predict, UNKNOWN_CODE } from './prediction.ts';
import { entropyBits } from './probability.ts';
import type { Situation } from './schema.ts';
import { type ActionClasses, BENCH_CLASS, classOf } from './treatment.ts';

/** Hypotheses below this share of the mass do not count in the choice of a check (they do in the posterior). */
const NEGLIGIBLE = 2e-5;
/** Faults below this share are not told apart from their like when information is reckoned. */
const MINOR = 0.004;

/** The hypotheses that count, gathered by fault and by class of action. */
export type Live = {
  readonly belief: Belief;
  readonly hypotheses: Int32Array;
  readonly masses: Float64Array;
  /** Where each group of one fault (or of minor ones of one class) begins; one entry more than there are groups. */
  readonly starts: readonly number[];
  readonly groupClass: readonly number[];
  readonly classCount: number;
  /** Work space: the code of each, and the masses by code. */
  readonly codes: Uint8Array;
  readonly total: Float64Array;
};

export function gatherLive(model: DiagnosisModel, belief: Belief, classes: ActionClasses): Live {
  const { first, second, count } = model.hypotheses;
  const groups = new Map<number, number[]>();
  let sum = 0;
  for (let hypothesis = 0; hypothesis < count; hypothesis += 1) {
    const mass = belief.mass[hypothesis]!;
    if (mass < NEGLIGIBLE) continue;
    sum += mass;
    const action =
      hypothesis === SOMETHING_ELSE ? BENCH_CLASS : classOf(classes, first[hypothesis]!, second[hypothesis]!);
    const fault = mainFault(belief, first[hypothesis]!, second[hypothesis]!);
    const isMinor = fault === NO_FAULT || belief.present[fault]! < MINOR;
    // One number for fault and class together; minor faults share the group of their class.
    const group = action * 1000 + (isMinor ? 0 : fault + 1);
    const members = groups.get(group);
    if (members === undefined) groups.set(group, [hypothesis]);
    else members.push(hypothesis);
  }
  const order = [...groups.values()].flat();
  const starts = [0];
  for (const members of groups.values()) starts.push(starts.at(-1)! + members.length);
  return {
    belief,
    hypotheses: Int32Array.from(order),
    masses: Float64Array.from(order, (hypothesis) => belief.mass[hypothesis]! / sum),
    starts,
    groupClass: [...groups.keys()].map((group) => Math.floor(group / 1000)),
    classCount: classes.count,
    codes: new Uint8Array(order.length),
    total: new Float64Array(UNKNOWN_CODE),
  };
}

function mainFault({ present }: Belief, first: number, second: number): number {
  if (first === NO_FAULT || second === NO_FAULT) return first;
  return present[first]! >= present[second]! ? first : second;
}

/**
 * The most that a check can tell, in bits: what its answer says about which hypothesis holds, severity and all. Neither
 * the fault nor what to do about it can be learnt better than that (data processing inequality).
 */
export function mostBits(model: DiagnosisModel, live: Live, position: number, { person }: Situation): number {
  const seen = readCodes(model, live, position);
  if (seen.length < 2) return 0;
  const rows = rowsNow(model, live.belief, position, person);
  const byAnswer = new Float64Array(rows[0]!.length);
  let within = 0;
  for (const code of seen) within += live.total[code]! * rowEntropy(rows[code]!);
  spread(live.total, seen, rows, byAnswer);
  return (entropyBits(byAnswer) - within) * (1 + model.knowledge.people.rules.faultShare.value);
}

const rowEntropies = new WeakMap<Float64Array, number>();

function rowEntropy(row: Float64Array): number {
  let entropy = rowEntropies.get(row);
  if (entropy === undefined) {
    entropy = entropyBits(row);
    rowEntropies.set(row, entropy);
  }
  return entropy;
}

/** Expected information of a check about the class of action, and about the fault, in bits. */
export function informationOf(
  model: DiagnosisModel,
  live: Live,
  position: number,
  { person }: Situation,
): { actionBits: number; faultBits: number } {
  const seen = readCodes(model, live, position);
  const rows = rowsNow(model, live.belief, position, person);
  const answerCount = rows[0]!.length;
  const { codes, masses, starts, groupClass, classCount } = live;
  const byCode = new Float64Array(rows.length);
  const byAnswer = new Float64Array(answerCount);
  const byClass = new Float64Array(classCount * answerCount);
  const all = new Float64Array(answerCount);
  let withinFault = 0;
  for (let group = 0; group < groupClass.length; group += 1) {
    const end = starts[group + 1]!;
    for (let index = starts[group]!; index < end; index += 1) {
      const code = codes[index]!;
      byCode[code] = byCode[code]! + masses[index]!;
    }
    const offset = groupClass[group]! * answerCount;
    const mass = spread(byCode, seen, rows, byAnswer);
    withinFault += mass * entropyBits(byAnswer);
    for (let answer = 0; answer < answerCount; answer += 1) {
      byClass[offset + answer]! += byAnswer[answer]!;
      all[answer]! += byAnswer[answer]!;
      byAnswer[answer] = 0;
    }
  }
  const entropy = entropyBits(all);
  return {
    actionBits: Math.max(0, entropy - withinClasses(byClass, answerCount)),
    faultBits: Math.max(0, entropy - withinFault),
  };
}

/** Writes the codes of the live hypotheses and the masses by code into the work space; gives the codes that there are. */
function readCodes(
  model: DiagnosisModel,
  { hypotheses, masses, codes, total }: Live,
  position: number,
): number[] {
  const predictions = model.predictions(position);
  const known = predictions.codes;
  const seen: number[] = [];
  total.fill(0);
  const count = hypotheses.length;
  for (let index = 0; index < count; index += 1) {
    const hypothesis = hypotheses[index]!;
    let code = known[hypothesis]!;
    if (code === UNKNOWN_CODE) code = predict(model.predictor, predictions, hypothesis);
    codes[index] = code;
    const before = total[code]!;
    if (before === 0) seen.push(code);
    total[code] = before + masses[index]!;
  }
  return seen;
}

/** Spreads the masses of codes over the answers, empties them, and gives their sum. */
function spread(
  byCode: Float64Array,
  seen: readonly number[],
  rows: readonly Float64Array[],
  byAnswer: Float64Array,
): number {
  const answerCount = byAnswer.length;
  let sum = 0;
  for (const code of seen) {
    const mass = byCode[code]!;
    if (mass === 0) continue;
    const row = rows[code]!;
    for (let answer = 0; answer < answerCount; answer += 1) {
      byAnswer[answer] = byAnswer[answer]! + mass * row[answer]!;
    }
    sum += mass;
    byCode[code] = 0;
  }
  return sum;
}

/** Entropy of the answer that is left when the class of action is known. */
function withinClasses(byClass: Float64Array, answerCount: number): number {
  let within = 0;
  for (let start = 0; start < byClass.length; start += answerCount) {
    let mass = 0;
    for (let answer = 0; answer < answerCount; answer += 1) mass += byClass[start + answer]!;
    if (mass > 0) within += mass * entropyBits(byClass.subarray(start, start + answerCount));
  }
  return within;
}
