/** Plain statistics of a sample. */

/** The mean; not a number for an empty sample. */
export function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** The share for which something holds. */
export function share<T>(values: readonly T[], holds: (value: T) => boolean): number {
  return mean(values.map((value) => (holds(value) ? 1 : 0)));
}

/** The smallest value that at least this part of the sample does not exceed. @param part from 0 to 1. */
export function quantile(values: readonly number[], part: number): number {
  const sorted = values.toSorted((one, other) => one - other);
  return sorted[Math.max(0, Math.ceil(part * sorted.length) - 1)] ?? Number.NaN;
}

/**
 * How many cases must be seen to show, with 95 % confidence, that a sign is caught at least this often, when so many of
 * them were missed: the smallest n for which so few misses would come by chance in at most one of twenty (exact binomial).
 */
export function casesNeeded(sensitivity: number, misses: number, doubt = 0.05): number {
  for (let count = misses + 1; ; count += 1) {
    let term = sensitivity ** count;
    let sum = term;
    for (let missed = 1; missed <= misses; missed += 1) {
      term *= (((count - missed + 1) / missed) * (1 - sensitivity)) / sensitivity;
      sum += term;
    }
    if (sum <= doubt) return count;
  }
}
