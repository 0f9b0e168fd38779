/** What is believed after some findings: the posterior over all hypotheses, kept up finding by finding. */
import { conditionChances } from './conditions.ts';
import { readFinding } from './finding.ts';
import { type Hypotheses, NO_FAULT } from './hypotheses.ts';
import type { DiagnosisModel } from './model.ts';
import type { Finding, Person, TreatedFault } from './schema.ts';
import { priorAfter } from './treated-prior.ts';
import { logOfLooks, type Weight, weightOf } from './weight.ts';

/**
 * Immutable. Masses sum to 1; hypotheses beyond hope have mass 0.
 *
 * Two things that have nothing to do with the instrument are summed out, because they make answers go wrong together: the
 * condition of the player (people.yaml, `player`), and whether this person misjudges a part (`blur`).
 */
export type Belief = {
  readonly person: Person | null;
  readonly mass: Float64Array;
  /** Per fault: chance that it is there, alone or with another. */
  readonly present: Float64Array;
  /** Chance of each condition of the player, fit first. */
  readonly conditions: readonly number[];
  /** log P(findings), and the sum of log P(finding) of each for itself. */
  readonly logEvidence: number;
  readonly logSingles: number;
  /** Keys of the findings that have been counted: saying the same twice counts once. */
  readonly counted: ReadonlySet<string>;
  /** How fingerings have answered, by the position of their check; the last answer stands. */
  readonly notes: ReadonlyMap<number, number>;
  /** What has been said of each part that was looked at. */
  readonly looks: ReadonlyMap<string, readonly Weight[]>;
  readonly treated: readonly TreatedFault[];
  /** log P(findings | hypothesis, fit player). */
  readonly fit: Float64Array;
  /** By condition: how many times as likely they are in it; null where no note told the conditions apart. */
  readonly short: readonly (Float64Array | null)[];
};

/** Below this share of the likeliest hypothesis (e to the minus 18, about 2e-8) a hypothesis is beyond hope. */
const HOPELESS = -18;

/** What is believed before anything has been found: the priors, changed by what has been treated. */
export function startBelief(model: DiagnosisModel, treated: readonly TreatedFault[] = []): Belief {
  return settleBelief(model, unsettled(model, treated));
}

/**
 * Adds one finding. "Could not tell" changes nothing, and so does a finding that has been counted already.
 * @throws RangeError for an unknown note, fingering, check or answer.
 */
export function addFinding(model: DiagnosisModel, belief: Belief, finding: Finding, person: Person): Belief {
  const open: Unsettled = {
    ...belief,
    person,
    counted: new Set(belief.counted),
    notes: new Map(belief.notes),
    looks: new Map(belief.looks),
    fit: belief.fit.slice(),
    short: [...belief.short],
  };
  return takeIn(model, open, finding, person, copyOf) ? settleBelief(model, open) : belief;
}

const copyOf = (logs: Float64Array) => logs.slice();

/** What is believed after these findings; their order does not matter. @throws RangeError as {@link addFinding}. */
export function believe(
  model: DiagnosisModel,
  findings: readonly Finding[],
  person: Person,
  treated: readonly TreatedFault[] = [],
): Belief {
  const open = unsettled(model, treated);
  for (const finding of findings) takeIn(model, open, finding, person, (logs) => logs);
  return settleBelief(model, open);
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

/** Chances of the player's conditions before anything has been played. */
function conditionsBefore(model: DiagnosisModel, person: Person | null): readonly number[] {
  return conditionChances(model, person ?? 'director');
}

type Unsettled = {
  -readonly [Key in 'person' | 'logSingles' | 'treated' | 'fit']: Belief[Key];
} & {
  readonly counted: Set<string>;
  readonly notes: Map<number, number>;
  readonly looks: Map<string, readonly Weight[]>;
  readonly short: (Float64Array | null)[];
};

function unsettled(model: DiagnosisModel, treated: readonly TreatedFault[]): Unsettled {
  return {
    person: null,
    logSingles: 0,
    counted: new Set(),
    notes: new Map(),
    looks: new Map(),
    treated,
    fit: new Float64Array(model.hypotheses.count),
    short: conditionsBefore(model, null).map(() => null),
  };
}

/**
 * Takes a finding into the logarithms; false when it changes nothing.
 * @param own makes an array of the conditions one's own before it is written to.
 */
function takeIn(
  model: DiagnosisModel,
  open: Unsettled,
  finding: Finding,
  person: Person,
  own: (logs: Float64Array) => Float64Array,
): boolean {
  const read = readFinding(model, finding);
  if (read.answer === null || open.counted.has(read.key)) return false;
  const weight = weightOf(model, read, person);
  open.person = person;
  open.counted.add(read.key);
  open.logSingles += weight.logSingle;
  if (weight.isNote) open.notes.set(read.position, read.answer);
  if (weight.misjudged === null) addLogs(open.fit, weight.logs, weight.codes);
  else addLook(open, weight);
  weight.ratios?.forEach((ratios, condition) => {
    if (ratios === null) return;
    const before = open.short[condition] ?? null;
    const product = before === null ? new Float64Array(open.fit.length).fill(1) : own(before);
    multiply(product, ratios, weight.codes);
    open.short[condition] = product;
  });
  return true;
}

// The loops below run over thousands of hypotheses for every answer; asking an array for its length in the loop's
// condition more than doubles their time.
function addLogs(logs: Float64Array, added: Float64Array, codes: Uint8Array): void {
  const count = logs.length;
  for (let hypothesis = 0; hypothesis < count; hypothesis += 1) {
    logs[hypothesis] = logs[hypothesis]! + added[codes[hypothesis]!]!;
  }
}

function multiply(product: Float64Array, ratios: Float64Array, codes: Uint8Array): void {
  const count = product.length;
  for (let hypothesis = 0; hypothesis < count; hypothesis += 1) {
    product[hypothesis] = product[hypothesis]! * ratios[codes[hypothesis]!]!;
  }
}

/** All that has been said of a part counts together: its earlier share is taken out and the new one put in. */
function addLook({ looks, fit }: Unsettled, weight: Weight): void {
  const { place } = weight.misjudged!;
  const before = looks.get(place);
  const after = [...(before ?? []), weight];
  looks.set(place, after);
  const added = logOfLooks(after);
  const removed = before === undefined ? null : logOfLooks(before);
  const count = fit.length;
  for (let hypothesis = 0; hypothesis < count; hypothesis += 1) {
    fit[hypothesis] = fit[hypothesis]! + added[hypothesis]! - (removed?.[hypothesis] ?? 0);
  }
}

/** log P(findings | hypothesis), the conditions of the player summed out. */
export function logLikelihoodOf(model: DiagnosisModel, belief: Belief, hypothesis: number): number {
  const chances = conditionsBefore(model, belief.person);
  const overall = chances.reduce(
    (sum, chance, condition) => sum + chance * (belief.short[condition]?.[hypothesis] ?? 1),
    0,
  );
  return belief.fit[hypothesis]! + Math.log(overall);
}

function settleBelief(model: DiagnosisModel, open: Unsettled | Belief): Belief {
  const { hypotheses } = model;
  const { count, firstPair } = hypotheses;
  const logPrior = priorAfter(model, open.treated);
  const { fit, short } = open;
  const before = conditionsBefore(model, open.person);
  const isTold = short.some((ratios) => ratios !== null);
  const overall = isTold ? sumOverConditions(short, before, count) : null;
  let largest = Number.NEGATIVE_INFINITY;
  let leader = 0;
  let most = 1;
  for (let hypothesis = 0; hypothesis < count; hypothesis += 1) {
    const log = logPrior[hypothesis]! + fit[hypothesis]!;
    if (log > largest) {
      largest = log;
      leader = hypothesis;
    }
    if (overall !== null && overall[hypothesis]! > most) most = overall[hypothesis]!;
  }
  // A pair is lifted by what the conditions make of it, beside the leader; taking the exponential of all takes most of the time.
  const unlifted = largest + HOPELESS + Math.log(overall?.[leader] ?? 1);
  const lifted = unlifted - Math.log(most);
  const mass = new Float64Array(count);
  for (let hypothesis = 0; hypothesis < count; hypothesis += 1) {
    const log = logPrior[hypothesis]! + fit[hypothesis]!;
    const lift = overall === null ? 1 : overall[hypothesis]!;
    if (hypothesis >= firstPair && log < (lift > 1 ? lifted : unlifted)) continue;
    mass[hypothesis] = Math.exp(log - largest) * lift;
  }
  const sum = sumOfHopeful(mass);
  return {
    ...open,
    mass,
    present: presence(hypotheses, mass, sum),
    conditions: overall === null ? before : conditionsAfter({ short, before, overall, mass }),
    logEvidence: largest + Math.log(sum),
  };
}

/** Empties the masses that are beyond hope, and gives the sum of the others. */
function sumOfHopeful(mass: Float64Array): number {
  const count = mass.length;
  let largest = 0;
  for (let hypothesis = 0; hypothesis < count; hypothesis += 1)
    if (mass[hypothesis]! > largest) largest = mass[hypothesis]!;
  const least = largest * Math.exp(HOPELESS);
  let sum = 0;
  for (let hypothesis = 0; hypothesis < count; hypothesis += 1) {
    if (mass[hypothesis]! < least) mass[hypothesis] = 0;
    else sum += mass[hypothesis]!;
  }
  return sum;
}

/** By hypothesis: how many times as likely the findings are as with a player who is known to be fit. */
function sumOverConditions(short: Belief['short'], before: readonly number[], count: number): Float64Array {
  const alike = before.reduce((sum, chance, condition) => sum + (short[condition] ? 0 : chance), 0);
  const overall = new Float64Array(count).fill(alike);
  for (const [condition, ratios] of short.entries()) {
    if (ratios === null) continue;
    const chance = before[condition]!;
    for (let hypothesis = 0; hypothesis < count; hypothesis += 1) {
      overall[hypothesis] = overall[hypothesis]! + chance * ratios[hypothesis]!;
    }
  }
  return overall;
}

type Conditions = {
  readonly short: Belief['short'];
  readonly before: readonly number[];
  readonly overall: Float64Array;
  readonly mass: Float64Array;
};

/** Chances of the conditions after the findings. @param mass brought to a sum of 1 already. */
function conditionsAfter({ short, before, overall, mass }: Conditions): number[] {
  const count = mass.length;
  return before.map((chance, condition) => {
    const ratios = short[condition] ?? null;
    let share = 0;
    for (let hypothesis = 0; hypothesis < count; hypothesis += 1) {
      if (mass[hypothesis] === 0) continue;
      share += (mass[hypothesis]! / overall[hypothesis]!) * (ratios === null ? 1 : ratios[hypothesis]!);
    }
    return chance * share;
  });
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
