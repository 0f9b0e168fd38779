import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  anyCause,
  conflictNats,
  decibans,
  entropyBits,
  logSumExp,
  posteriorOf,
} from '../../src/diagnosis/probability.ts';
import { expectClose } from './support/closeness.ts';

/** All assignments of true and false to so many parts. */
const assignments = (count: number): boolean[][] =>
  Array.from({ length: 2 ** count }, (_, bits) =>
    Array.from({ length: count }, (_, part) => ((bits >> part) & 1) === 1),
  );

const product = (values: readonly number[]) => values.reduce((all, value) => all * value, 1);

describe("Bayes' rule on published examples", () => {
  it('gives 7.8% for a positive test at base rate 1%, hit rate 80%, false alarms 9.6%', () => {
    // Source: Gigerenzer & Hoffrage 1995, Psychological Review 102(4):684-704.
    const { posterior } = posteriorOf([Math.log(0.01), Math.log(0.99)], [[Math.log(0.8), Math.log(0.096)]]);
    expect(posterior[0]).toBeCloseTo(0.0776, 4);
  });

  it('gives 0.284 for a burglary when both neighbours call', () => {
    // Source: Russell & Norvig 2010, Artificial Intelligence: A Modern Approach, 3rd ed., sect. 14.4 (Pearl 1988).
    const worlds = assignments(3).map(([burglary, earthquake, alarm]) => ({ burglary, earthquake, alarm }));
    const alarmChance = (burglary: boolean, earthquake: boolean) =>
      burglary ? (earthquake ? 0.95 : 0.94) : earthquake ? 0.29 : 0.001;
    const prior = worlds.map(({ burglary, earthquake, alarm }) => {
      const rings = alarmChance(burglary!, earthquake!);
      return (burglary ? 0.001 : 0.999) * (earthquake ? 0.002 : 0.998) * (alarm ? rings : 1 - rings);
    });
    const { posterior } = posteriorOf(prior.map(Math.log), [
      worlds.map(({ alarm }) => Math.log(alarm ? 0.9 : 0.05)),
      worlds.map(({ alarm }) => Math.log(alarm ? 0.7 : 0.01)),
    ]);
    const burglary = worlds.reduce((sum, world, index) => sum + (world.burglary ? posterior[index]! : 0), 0);
    expect(burglary).toBeCloseTo(0.284172, 6);
  });

  it('gives the fever table from three inhibition probabilities', () => {
    // Source: Russell & Norvig 2010, sect. 14.3: cold 0.6, flu 0.2, malaria 0.1.
    const [cold, flu, malaria] = [0.4, 0.8, 0.9];
    expect(anyCause([])).toBe(0);
    expect(anyCause([cold])).toBeCloseTo(0.4, 9);
    expect(anyCause([cold, flu])).toBeCloseTo(0.88, 9);
    expect(anyCause([cold, malaria])).toBeCloseTo(0.94, 9);
    expect(anyCause([flu, malaria])).toBeCloseTo(0.98, 9);
    expect(anyCause([cold, flu, malaria])).toBeCloseTo(0.988, 9);
  });

  it('gives the exact posterior of four faults and five findings', () => {
    // Derived; method: Heckerman 1989, enumeration equal to inclusion-exclusion. Findings 0 and 3 present, 2 absent.
    const prior = [0.02, 0.05, 0.01, 0.03];
    const link = [
      [0.8, 0, 0.3, 0, 0.1],
      [0.2, 0.7, 0, 0.4, 0],
      [0, 0.6, 0.9, 0, 0.2],
      [0.5, 0, 0, 0.7, 0.6],
    ];
    const leak = [0.01, 0.02, 0.01, 0.01, 0.03];
    const sets = assignments(4);
    const chance = (finding: number) =>
      sets.map((set) =>
        anyCause(
          link.map((row, fault) => (set[fault] ? row[finding]! : 0)),
          leak[finding]!,
        ),
      );
    const { posterior, logEvidence } = posteriorOf(
      sets.map((set) =>
        Math.log(product(set.map((isThere, fault) => (isThere ? prior[fault]! : 1 - prior[fault]!)))),
      ),
      [chance(0).map(Math.log), chance(3).map(Math.log), chance(2).map((present) => Math.log(1 - present))],
    );
    const present = prior.map((_, fault) =>
      sets.reduce((sum, set, index) => sum + (set[fault] ? posterior[index]! : 0), 0),
    );
    expect(Math.exp(logEvidence)).toBeCloseTo(0.015063108, 9);
    expectClose(present, [0.039346, 0.325098, 0.001009, 0.71084], 6);
  });

  it('says so when no hypothesis allows the findings', () => {
    expect(() => posteriorOf([0, 0], [[Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY]])).toThrow(
      RangeError,
    );
  });
});

describe('weight of evidence', () => {
  it('adds up from prior odds to posterior odds', () => {
    // Source: Good 1985, "Weight of evidence: a brief survey"; figures derived.
    const prior = decibans(0.1, 0.9);
    const weights = [decibans(0.9, 0.2), decibans(0.3, 0.6), decibans(0.8, 0.1)];
    const total = weights.reduce((sum, weight) => sum + weight, prior);
    expect(prior).toBeCloseTo(-9.5424, 4);
    expectClose(weights, [6.5321, -3.0103, 9.0309], 4);
    expect(total).toBeCloseTo(3.0103, 4);
    expect(1 / (1 + 10 ** (-total / 10))).toBeCloseTo(0.666667, 6);
  });
});

describe('findings that contradict each other', () => {
  it('have a positive conflict, and findings that support each other a negative one', () => {
    const prior = [Math.log(0.5), Math.log(0.5)];
    const points = [Math.log(0.9), Math.log(0.1)];
    const against = [Math.log(0.1), Math.log(0.9)];
    const single = (row: number[]) => posteriorOf(prior, [row]).logEvidence;
    const conflict = (rows: number[][]) =>
      conflictNats(rows.map(single), posteriorOf(prior, rows).logEvidence);
    expect(conflict([points, against])).toBeGreaterThan(0);
    expect(conflict([points, points])).toBeLessThan(0);
  });
});

describe('entropy and sums of exponentials', () => {
  it('do not depend on the scale of the masses', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 1e-6, max: 1, noNaN: true }), { minLength: 1, maxLength: 20 }),
        (masses) => {
          const scaled = entropyBits(masses.map((mass) => mass * 7));
          expect(scaled).toBeCloseTo(entropyBits(masses), 9);
          expect(logSumExp(masses.map((mass) => Math.log(mass) - 900))).toBeCloseTo(
            Math.log(masses.reduce((sum, mass) => sum + mass, 0)) - 900,
            9,
          );
        },
      ),
    );
  });

  it('are zero and minus infinity for nothing at all', () => {
    expect(entropyBits([])).toBe(0);
    expect(entropyBits([0, 0])).toBe(0);
    expect(logSumExp([Number.NEGATIVE_INFINITY])).toBe(Number.NEGATIVE_INFINITY);
  });
});
