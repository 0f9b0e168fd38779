import { describe, expect, it } from 'vitest';
import { scoreForecasts } from '../../src/diagnosis/calibration.ts';
import { cheapestOrder, expectedCost, settledRatios, thresholdsOf } from '../../src/diagnosis/decision.ts';

const permutations = (items: readonly number[]): number[][] =>
  items.length === 0
    ? [[]]
    : items.flatMap((item) =>
        permutations(items.filter((other) => other !== item)).map((rest) => [item, ...rest]),
      );

describe('the order of check-and-mend steps', () => {
  // Rule: Kalagnanam & Henrion 1990; cost: Heckerman, Breese & Rommelse 1995; figures derived.
  const steps = [
    { probability: 0.4, check: 8, mend: 2 },
    { probability: 0.3, check: 3, mend: 1 },
    { probability: 0.2, check: 5, mend: 2 },
    { probability: 0.1, check: 4, mend: 1 },
  ];

  it('is by probability over cost, and no other of the 24 orders is cheaper', () => {
    const order = cheapestOrder(steps);
    expect(order).toEqual([1, 0, 2, 3]);
    expect(expectedCost(steps, order)).toBeCloseTo(12.1, 9);
    const costs = permutations([0, 1, 2, 3]).map((other) => expectedCost(steps, other));
    expect(Math.min(...costs)).toBeCloseTo(12.1, 9);
    expect(Math.max(...costs)).toBeCloseTo(16.6, 9);
  });

  it('beats ordering by probability alone and by cost alone', () => {
    expect(expectedCost(steps, [0, 1, 2, 3])).toBeCloseTo(13.3, 9);
    expect(expectedCost(steps, [1, 3, 2, 0])).toBeCloseTo(13.6, 9);
  });
});

describe('thresholds', () => {
  it('of testing and acting follow from benefit, harm and the quality of the test', () => {
    // Formulas: Pauker & Kassirer 1980, New England Journal of Medicine 302:1109-1117; figures derived.
    const { test, act, noTest } = thresholdsOf({
      benefit: 10,
      harm: 1,
      sensitivity: 0.9,
      specificity: 0.95,
      testCost: 0.05,
    });
    expect(test).toBeCloseTo(0.01105, 5);
    expect(act).toBeCloseTo(0.461538, 6);
    expect(noTest).toBeCloseTo(0.090909, 6);
  });

  it('of settled evidence are 18 and 0.105 for 5% false alarms and 10% misses', () => {
    // Source: Wald 1945, Annals of Mathematical Statistics 16:117-186.
    const { settledFor, settledAgainst } = settledRatios(0.05, 0.1);
    expect(settledFor).toBeCloseTo(18, 9);
    expect(settledAgainst).toBeCloseTo(0.105263, 6);
  });
});

describe('the score of forecasts', () => {
  it('comes out as in the worked example of twenty forecasts', () => {
    // Derived, after Brier 1950, Murphy 1973 and Naeini et al. 2015.
    const said = (chance: number, came: string) =>
      [...came].map((one) => ({ chance, cameTrue: one === '1' }));
    const score = scoreForecasts([...said(0.9, '11110'), ...said(0.6, '11100'), ...said(0.2, '1100000000')]);
    expect(score.brier).toBeCloseTo(0.1825, 9);
    expect(score.reliability).toBeCloseTo(0.0025, 9);
    expect(score.resolution).toBeCloseTo(0.0675, 9);
    expect(score.uncertainty).toBeCloseTo(0.2475, 9);
    expect(score.logLoss).toBeCloseTo(0.554655, 6);
    expect(score.calibrationError).toBeCloseTo(0.025, 9);
  });
});
