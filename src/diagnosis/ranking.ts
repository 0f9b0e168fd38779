/** Which check to ask for next: expected information about what to do, per cost, among the checks this person can do. */
import type { Belief } from './belief.ts';
import type { Check } from './check.ts';
import { COULD_NOT_TELL } from './finding.ts';
import { NO_FAULT, SOMETHING_ELSE } from './hypotheses.ts';
import type { DiagnosisModel } from './model.ts';
import { predict, UNKNOWN_CODE } from './prediction.ts';
import { entropyBits } from './probability.ts';
import type { CheckKind, Situation, TreatedFault } from './schema.ts';
import { type ActionClasses, actionClasses, BENCH_CLASS, classOf } from './treatment.ts';

/** A check with what it is expected to tell. */
export type RankedCheck = {
  readonly check: string;
  readonly title: string;
  /** Expected information about what to do, in bits, and a share of that about which fault it is. */
  readonly bits: number;
  /** Of these, the bits about what to do. */
  readonly actionBits: number;
  /** Seconds, everything counted. */
  readonly cost: number;
};

/** Restricts the choice to checks of these groups. */
export type Scope = { readonly groups?: readonly CheckKind['group'][] };

/** Keeps rankings between calls; make one per model and let it be dropped with it. Purely a memory. */
export type RankingCache = Map<string, readonly RankedCheck[]>;

/** Hypotheses below this share of the mass do not count in the choice of a check (they do in the posterior). */
const NEGLIGIBLE = 2e-5;
/** Faults below this share are not told apart from their like when information is reckoned. */
const MINOR = 0.004;

/**
 * The checks worth asking for, best first. Left out: what has been asked, what this person or these tools cannot do, what
 * makes no sense after the notes played, and what tells next to nothing.
 * @param asked ids of checks already answered, "could not tell" included.
 */
export function nextChecks(
  model: DiagnosisModel,
  belief: Belief,
  situation: Situation,
  asked: ReadonlySet<string>,
  treated: readonly TreatedFault[] = [],
  { groups }: Scope = {},
): RankedCheck[] {
  const { rules } = model.knowledge.people;
  const live = gatherLive(model, belief, actionClasses(model, situation, treated));
  const ranked: RankedCheck[] = [];
  model.checks.forEach((check, position) => {
    if (asked.has(check.id) || (groups !== undefined && !groups.includes(check.group))) return;
    if (!canDo(check, situation) || !makesSense(model, belief, check, position)) return;
    const { actionBits, faultBits } = informationOf(model, live, position, situation);
    const bits = actionBits + rules.faultShare.value * faultBits;
    if (bits < rules.leastBits.value) return;
    ranked.push({
      check: check.id,
      title: check.title,
      bits,
      actionBits,
      cost: costOf(model, check, situation),
    });
  });
  return ranked.sort((one, other) => other.bits / other.cost - one.bits / one.cost);
}

/** Whether this person can do a check with what is to hand. */
export function canDo(check: Check, { person, tools, canPlay }: Situation): boolean {
  if (!check.persons.includes(person)) return false;
  if (check.needsPlaying && !canPlay) return false;
  return check.tools.every((tool) => tools.includes(tool));
}

/** Seconds that a check costs this person, the question, the tools and the telephone counted. */
export function costOf(
  { knowledge: { people } }: DiagnosisModel,
  check: Check,
  { person }: Situation,
): number {
  const extra = check.tools.reduce((sum, tool) => sum + (people.costs.tools[tool] ?? 0), 0);
  return (people.costs.question + check.seconds + extra) * people.costs.persons[person];
}

/** "Does the note get better" can only be asked of a note that fails. */
function makesSense(model: DiagnosisModel, belief: Belief, { kind }: Check, position: number): boolean {
  if (kind === 'play') return !belief.notes.has(position);
  const { plan } = model.predictions(position).planned;
  if (plan.by !== 'squeezing' && plan.by !== 'pressing') return true;
  const answer = belief.notes.get(model.positionOf(`play@${plan.fingering.id}`));
  return answer !== undefined && answer > 0;
}

/** The hypotheses that count, gathered by fault and by class of action. */
type Live = {
  readonly hypotheses: Int32Array;
  readonly masses: Float64Array;
  /** Where each group of one fault (or of minor ones of one class) begins; one entry more than there are groups. */
  readonly starts: readonly number[];
  readonly groupClass: readonly number[];
  readonly classCount: number;
};

function gatherLive(model: DiagnosisModel, belief: Belief, classes: ActionClasses): Live {
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
    hypotheses: Int32Array.from(order),
    masses: Float64Array.from(order, (hypothesis) => belief.mass[hypothesis]! / sum),
    starts,
    groupClass: [...groups.keys()].map((group) => Math.floor(group / 1000)),
    classCount: classes.count,
  };
}

function mainFault({ present }: Belief, first: number, second: number): number {
  if (first === NO_FAULT || second === NO_FAULT) return first;
  return present[first]! >= present[second]! ? first : second;
}

const NOTHING = { actionBits: 0, faultBits: 0 };

/** Expected information of a check about the class of action, and about the fault, in bits. */
function informationOf(
  model: DiagnosisModel,
  live: Live,
  position: number,
  { person }: Situation,
): { actionBits: number; faultBits: number } {
  const { codes, total, seen } = codesOf(model, live, position);
  const { rules } = model.knowledge.people;
  // No check tells more than which code holds: a bound that spares most checks the rest of the work.
  if (entropyBits(total) * (1 + rules.faultShare.value) < rules.leastBits.value) return NOTHING;

  const rows = model.rows(position, person);
  const answerCount = rows[0]!.length;
  const { masses, starts, groupClass, classCount } = live;
  const byCode = new Float64Array(rows.length);
  const byAnswer = new Float64Array(answerCount);
  const byClass = new Float64Array(classCount * answerCount);
  const all = new Float64Array(answerCount);
  let withinFault = 0;
  for (let group = 0; group < groupClass.length; group += 1) {
    for (let index = starts[group]!; index < starts[group + 1]!; index += 1) {
      byCode[codes[index]!]! += masses[index]!;
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

/** The codes of the live hypotheses, their masses by code, and which codes there are. */
function codesOf(
  model: DiagnosisModel,
  { hypotheses, masses }: Live,
  position: number,
): { codes: Uint8Array; total: Float64Array; seen: number[] } {
  const predictions = model.predictions(position);
  const codes = new Uint8Array(hypotheses.length);
  const total = new Float64Array(UNKNOWN_CODE);
  for (let index = 0; index < hypotheses.length; index += 1) {
    const hypothesis = hypotheses[index]!;
    let code = predictions.codes[hypothesis]!;
    if (code === UNKNOWN_CODE) code = predict(model.predictor, predictions, hypothesis);
    codes[index] = code;
    total[code]! += masses[index]!;
  }
  const seen: number[] = [];
  for (let code = 0; code < total.length; code += 1) if (total[code]! > 0) seen.push(code);
  return { codes, total, seen };
}

/** Spreads the masses of codes over the answers, empties them, and gives their sum. */
function spread(
  byCode: Float64Array,
  seen: readonly number[],
  rows: readonly Float64Array[],
  byAnswer: Float64Array,
): number {
  let sum = 0;
  for (const code of seen) {
    const mass = byCode[code]!;
    if (mass === 0) continue;
    const row = rows[code]!;
    for (let answer = 0; answer < row.length; answer += 1) byAnswer[answer]! += mass * row[answer]!;
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

/** A ranking from the cache, or reckoned and kept there. The key says everything that it depends on. */
export function rankedFrom(
  cache: RankingCache | undefined,
  model: DiagnosisModel,
  belief: Belief,
  question: {
    situation: Situation;
    asked: ReadonlySet<string>;
    treated: readonly TreatedFault[];
    scope: Scope;
  },
): readonly RankedCheck[] {
  const { situation, asked, treated, scope } = question;
  const reckon = () => nextChecks(model, belief, situation, asked, treated, scope);
  if (cache === undefined) return reckon();
  const key = JSON.stringify([
    [...belief.counted].sort(),
    [...asked].sort(),
    belief.person,
    { ...situation, tools: [...situation.tools].sort() },
    belief.treated,
    treated,
    scope.groups ?? COULD_NOT_TELL,
  ]);
  const known = cache.get(key) ?? reckon();
  cache.set(key, known);
  return known;
}
