/** Arithmetic of chances: logarithms, entropy, Bayes' rule over a list of exclusive hypotheses. Nothing about instruments. */

/** Base-2 entropy in bits of masses that need not add up to 1; zero masses count nothing. */
export function entropyBits(masses: ArrayLike<number>): number {
  let total = 0;
  let weighted = 0;
  const count = masses.length;
  for (let index = 0; index < count; index += 1) {
    const mass = masses[index]!;
    if (mass > 0) {
      total += mass;
      weighted += mass * Math.log2(mass);
    }
  }
  return total > 0 ? Math.log2(total) - weighted / total : 0;
}

/**
 * The logarithm of a sum of exponentials, without overflow.
 * @returns -Infinity when every term is -Infinity.
 */
export function logSumExp(terms: ArrayLike<number>): number {
  let largest = Number.NEGATIVE_INFINITY;
  for (let index = 0; index < terms.length; index += 1) largest = Math.max(largest, terms[index]!);
  if (largest === Number.NEGATIVE_INFINITY) return largest;
  let sum = 0;
  for (let index = 0; index < terms.length; index += 1) sum += Math.exp(terms[index]! - largest);
  return largest + Math.log(sum);
}

/**
 * Bayes' rule in log space: prior times the likelihoods of all findings, brought to a sum of 1.
 * @param logPrior natural logarithms, one per hypothesis, need not be normalised.
 * @param logLikelihoods one row per finding: log P(finding | hypothesis).
 * @returns the posterior, and the logarithm of the evidence P(findings) when the prior is normalised.
 * @throws RangeError when the findings are impossible under every hypothesis.
 */
export function posteriorOf(
  logPrior: ArrayLike<number>,
  logLikelihoods: readonly ArrayLike<number>[],
): { posterior: Float64Array; logEvidence: number } {
  const joint = Float64Array.from(logPrior);
  for (const row of logLikelihoods) {
    for (let index = 0; index < joint.length; index += 1) joint[index]! += row[index]!;
  }
  const logEvidence = logSumExp(joint);
  if (logEvidence === Number.NEGATIVE_INFINITY) throw new RangeError('no hypothesis allows these findings');
  return { posterior: joint.map((term) => Math.exp(term - logEvidence)), logEvidence };
}

/**
 * Chance that a sign appears when several independent causes can each bring it about (noisy-OR with leak).
 * Formula as in Jaakkola & Jordan 1999, J. Artificial Intelligence Research 10:291-322.
 * @param causes chance of the sign from each cause that is present. @param leak chance of it with no cause at all.
 */
export function anyCause(causes: readonly number[], leak = 0): number {
  return 1 - causes.reduce((absent, chance) => absent * (1 - chance), 1 - leak);
}

/**
 * Weight of evidence in decibans, 10 log10 of the likelihood ratio; it adds up over independent findings.
 * Source: Good 1985, "Weight of evidence: a brief survey", Bayesian Statistics 2.
 */
export function decibans(chanceIf: number, chanceIfNot: number): number {
  return 10 * Math.log10(chanceIf / chanceIfNot);
}

/**
 * How far findings contradict each other: log of (product of their single probabilities / their joint probability).
 * Above zero they support each other less than strangers would. Source: Jensen, Chamberlain, Nordahl & Jensen, UAI 1990.
 * @param logSingles log P(finding) for each. @param logJoint log P(all findings). @returns natural logarithm (nats).
 */
export function conflictNats(logSingles: readonly number[], logJoint: number): number {
  return logSingles.reduce((sum, single) => sum + single, 0) - logJoint;
}
