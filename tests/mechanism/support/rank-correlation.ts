/** Spearman's rank correlation of two lists of equal length; ties share the mean of their ranks. */
export function rankCorrelation(one: readonly number[], other: readonly number[]): number {
  const first = ranksOf(one);
  const second = ranksOf(other);
  const mean = (one.length + 1) / 2;
  let product = 0;
  let squares1 = 0;
  let squares2 = 0;
  for (const [index, rank] of first.entries()) {
    product += (rank - mean) * (second[index]! - mean);
    squares1 += (rank - mean) ** 2;
    squares2 += (second[index]! - mean) ** 2;
  }
  return product / Math.sqrt(squares1 * squares2);
}

function ranksOf(values: readonly number[]): number[] {
  return values.map((value) => {
    const below = values.filter((other) => other < value).length;
    const equal = values.filter((other) => other === value).length;
    return below + (equal + 1) / 2;
  });
}
