/** What an answer is expected to tell: mutual information between hypotheses, or classes of them, and the answers. */
import { entropyBits } from './probability.ts';

/**
 * An observation on abstract hypotheses. Hypotheses that predict the same share a code; `rows[code]` is the distribution
 * over the answers.
 */
export type Observation = {
  readonly codes: ArrayLike<number>;
  readonly rows: readonly ArrayLike<number>[];
};

/** Masses of the codes under the given masses of the hypotheses. */
export function massByCode(masses: ArrayLike<number>, observation: Observation): Float64Array {
  const byCode = new Float64Array(observation.rows.length);
  for (let index = 0; index < masses.length; index += 1) byCode[observation.codes[index]!]! += masses[index]!;
  return byCode;
}

/** Chances of the answers when the codes have these masses; sums to the sum of the masses. */
export function answerChances(byCode: ArrayLike<number>, rows: Observation['rows']): Float64Array {
  const chances = new Float64Array(rows[0]?.length ?? 0);
  for (let code = 0; code < byCode.length; code += 1) {
    const mass = byCode[code]!;
    if (mass === 0) continue;
    const row = rows[code]!;
    for (let answer = 0; answer < row.length; answer += 1) chances[answer]! += mass * row[answer]!;
  }
  return chances;
}

/**
 * Expected information in bits that the answer gives about which hypothesis holds: H(answer) - H(answer | hypothesis),
 * which equals the expected fall of the entropy of the hypotheses (de Kleer & Williams 1987, Artificial Intelligence
 * 32:97-130, choose the probe that makes the expected entropy least).
 * @param masses of the hypotheses, summing to 1.
 */
export function expectedInformation(masses: ArrayLike<number>, observation: Observation): number {
  const byCode = massByCode(masses, observation);
  let within = 0;
  for (let code = 0; code < byCode.length; code += 1) {
    if (byCode[code]! > 0) within += byCode[code]! * entropyBits(observation.rows[code]!);
  }
  return Math.max(0, entropyBits(answerChances(byCode, observation.rows)) - within);
}

/**
 * Expected information in bits about the class of the hypothesis only, for example about what to do: separating two
 * hypotheses of one class is worth nothing (Golovin, Krause & Ray 2010, arXiv:1010.3091, choose on classes).
 * @param classes class number of each hypothesis, from 0. @param classCount number of classes.
 */
export function expectedClassInformation(
  masses: ArrayLike<number>,
  observation: Observation,
  classes: { readonly of: ArrayLike<number>; readonly count: number },
): number {
  const codeCount = observation.rows.length;
  const joint = new Float64Array(classes.count * codeCount);
  for (let index = 0; index < masses.length; index += 1) {
    joint[classes.of[index]! * codeCount + observation.codes[index]!]! += masses[index]!;
  }
  return classInformationOf(joint, observation.rows);
}

/** As expectedClassInformation, from the joint masses [class * codes + code]. */
export function classInformationOf(joint: Float64Array, rows: Observation['rows']): number {
  const codeCount = rows.length;
  const all = new Float64Array(rows[0]?.length ?? 0);
  let within = 0;
  for (let start = 0; start < joint.length; start += codeCount) {
    const chances = answerChances(joint.subarray(start, start + codeCount), rows);
    let mass = 0;
    for (let answer = 0; answer < chances.length; answer += 1) {
      mass += chances[answer]!;
      all[answer]! += chances[answer]!;
    }
    if (mass > 0) within += mass * entropyBits(chances);
  }
  return Math.max(0, entropyBits(all) - within);
}

/**
 * The observation with the most expected information per cost, ties to the first.
 * @param costs one per observation, all 1 when left out. @returns its index and bits, or null when none tells anything.
 */
export function mostInformative(
  masses: ArrayLike<number>,
  observations: readonly Observation[],
  costs?: ArrayLike<number>,
): { index: number; bits: number } | null {
  let best: { index: number; bits: number } | null = null;
  let bestRate = 1e-12;
  observations.forEach((observation, index) => {
    const bits = expectedInformation(masses, observation);
    const rate = bits / (costs?.[index] ?? 1);
    if (rate > bestRate * (1 + 1e-9)) {
      best = { index, bits };
      bestRate = rate;
    }
  });
  return best;
}

/** The masses after an answer, brought to a sum of 1; null when the answer is impossible. */
export function afterAnswer(
  masses: ArrayLike<number>,
  observation: Observation,
  answer: number,
): Float64Array | null {
  const after = Float64Array.from(
    masses,
    (mass, index) => mass * observation.rows[observation.codes[index]!]![answer]!,
  );
  const sum = after.reduce((total, mass) => total + mass, 0);
  return sum > 0 ? after.map((mass) => mass / sum) : null;
}
