/** When to test, when to act, and in which order: formulas of decision-theoretic troubleshooting, on plain numbers. */

/** One thing that can be checked and then mended: its probability, the cost of checking and that of mending. */
export type CheckAndMend = { readonly probability: number; readonly check: number; readonly mend: number };

/**
 * The cheapest order of check-and-mend steps when exactly one fault is there: by probability over cost of checking,
 * highest first; the cost of mending does not matter. Source: Kalagnanam & Henrion 1990 (arXiv:1304.2362); Heckerman,
 * Breese & Rommelse 1995, Communications of the ACM 38(3):49-57.
 * @returns indexes into the steps; equal ratios keep their order.
 */
export function cheapestOrder(steps: readonly Pick<CheckAndMend, 'probability' | 'check'>[]): number[] {
  const ratio = (index: number) => steps[index]!.probability / steps[index]!.check;
  return steps.map((_, index) => index).sort((one, other) => ratio(other) - ratio(one) || one - other);
}

/**
 * Expected cost of checking and mending in the given order until the fault is found: the sum over the steps of
 * [chance that it is still unfound] x check + probability x mend. Source: Heckerman, Breese & Rommelse 1995.
 */
export function expectedCost(steps: readonly CheckAndMend[], order: readonly number[]): number {
  let unfound = 1;
  let cost = 0;
  for (const index of order) {
    const step = steps[index]!;
    cost += unfound * step.check + step.probability * step.mend;
    unfound -= step.probability;
  }
  return cost;
}

/** A treatment and the test before it. Benefit, harm and cost in one unit, minutes here. */
export type TestAndTreat = {
  /** Saved when the treatment is right. */
  readonly benefit: number;
  /** Lost when it is done for nothing. */
  readonly harm: number;
  readonly sensitivity: number;
  readonly specificity: number;
  readonly testCost: number;
};

/**
 * Between which chances of the fault a test is worth its cost. Below `test`: leave it; above `act`: treat without the
 * test; `noTest` is the chance at which treating breaks even when there is no test.
 * Source: Pauker & Kassirer 1980, New England Journal of Medicine 302:1109-1117.
 */
export function thresholdsOf(plan: TestAndTreat): { test: number; act: number; noTest: number } {
  const { benefit, harm, sensitivity, specificity, testCost } = plan;
  const falseYes = 1 - specificity;
  const missed = 1 - sensitivity;
  return {
    test: (falseYes * harm + testCost) / (falseYes * harm + sensitivity * benefit),
    act: (specificity * harm - testCost) / (specificity * harm + missed * benefit),
    noTest: harm / (harm + benefit),
  };
}

/**
 * Likelihood ratios at which evidence may be called settled, for chosen chances of a false yes and a miss.
 * Source: Wald 1945, Annals of Mathematical Statistics 16:117-186: A = (1 - miss) / falseYes, B = miss / (1 - falseYes).
 */
export function settledRatios(
  falseYes: number,
  miss: number,
): { settledFor: number; settledAgainst: number } {
  return { settledFor: (1 - miss) / falseYes, settledAgainst: miss / (1 - falseYes) };
}
