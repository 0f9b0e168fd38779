/** What no policy can beat, from information alone. */
import { entropyBits } from '../../../../src/diagnosis/probability.ts';

/** Mean length of the best yes-or-no code: no search with errorless yes-or-no answers is shorter. Huffman 1952, Proc. IRE 40:1098-1101. */
export function huffmanLength(chances: readonly number[]): number {
  const weights = [...chances];
  let length = 0;
  while (weights.length > 1) {
    weights.sort((one, other) => other - one);
    const pair = weights.pop()! + weights.pop()!;
    length += pair;
    weights.push(pair);
  }
  return length;
}

/**
 * The least that so many checks cost, no check being asked twice: the cheapest ones, and a part of the next. As it is
 * convex, the expected cost is at least that of the expected number (after Pattipati & Alexandridis 1990, IEEE
 * Transactions on Systems, Man & Cybernetics 20:872-887).
 */
export function cheapest(costs: readonly number[], count: number): number {
  const sorted = costs.toSorted((one, other) => one - other);
  let left = count;
  let sum = 0;
  for (const cost of sorted) {
    if (left <= 0) break;
    sum += cost * Math.min(1, left);
    left -= 1;
  }
  return sum;
}

/**
 * Capacity in bits of one noisy answer: the most that it can tell, whatever is asked. Arimoto 1972 and Blahut 1972, IEEE
 * Transactions on Information Theory 18:14-20, 460-473.
 * @param rows chances of the answers for each thing that could be there.
 */
export function capacityOf(rows: readonly ArrayLike<number>[], rounds = 300): number {
  let inputs = rows.map(() => 1 / rows.length);
  let capacity = 0;
  for (let round = 0; round < rounds; round += 1) {
    const answers = new Float64Array(rows[0]!.length);
    rows.forEach((row, input) => {
      for (let answer = 0; answer < row.length; answer += 1)
        answers[answer]! += inputs[input]! * row[answer]!;
    });
    const gains = rows.map((row) => {
      let divergence = 0;
      for (let answer = 0; answer < row.length; answer += 1)
        if (row[answer]! > 0) divergence += row[answer]! * Math.log(row[answer]! / answers[answer]!);
      return Math.exp(divergence);
    });
    const total = inputs.reduce((sum, share, input) => sum + share * gains[input]!, 0);
    capacity = Math.log2(total);
    inputs = inputs.map((share, input) => (share * gains[input]!) / total);
  }
  return Math.max(0, capacity);
}

/** Uncertainty in bits that may be left when one of so many classes is named and errs so often (Fano; Cover & Thomas 2006, 2.10). */
export function residualBits(error: number, classes: number): number {
  if (error <= 0 || classes < 2) return 0;
  return entropyBits([error, 1 - error]) + error * Math.log2(classes - 1);
}

/** The least mean number of noisy answers: what must be learnt over the most that one answer tells; 0 when nothing must. */
export function fewestAnswers(
  entropy: number,
  {
    error,
    classes,
    capacity,
  }: { readonly error: number; readonly classes: number; readonly capacity: number },
): number {
  return Math.max(0, entropy - residualBits(error, classes)) / capacity;
}
