import { describe, expect, it } from 'vitest';
import {
  afterAnswer,
  expectedClassInformation,
  expectedInformation,
  mostInformative,
  type Observation,
} from '../../src/diagnosis/information.ts';
import { entropyBits } from '../../src/diagnosis/probability.ts';
import { expectClose } from './support/closeness.ts';

/** Yes-or-no tests from their columns of zeros and ones, wrong with the given chance. */
const yesNo = (column: readonly number[], wrong = 0): Observation => ({
  codes: column,
  rows: [
    [1 - wrong, wrong],
    [wrong, 1 - wrong],
  ],
});

/** Expected number of tests until one hypothesis is left, always taking the most informative test. */
function expectedTests(masses: ArrayLike<number>, tests: readonly Observation[]): number {
  const best = mostInformative(masses, tests);
  if (best === null) return 0;
  const answers = tests[best.index]!.rows[0]!.length;
  let cost = 1;
  for (let answer = 0; answer < answers; answer += 1) {
    const chance = Array.from(masses).reduce(
      (sum, mass, index) => sum + mass * tests[best.index]!.rows[tests[best.index]!.codes[index]!]![answer]!,
      0,
    );
    const after = afterAnswer(masses, tests[best.index]!, answer);
    if (after !== null) cost += chance * expectedTests(after, tests);
  }
  return cost;
}

describe('choosing the next test', () => {
  it('needs 2.86 tests on the published system of six states and five tests', () => {
    // Source: Pattipati & Alexandridis 1990, IEEE Trans. Systems, Man & Cybernetics 20(4):872-887 (optimum 2.18); the
    // greedy figure is derived.
    const masses = [0.7, 0.01, 0.02, 0.1, 0.05, 0.12];
    const signatures = ['00000', '01001', '00110', '10011', '11000', '11110'];
    const tests = [0, 1, 2, 3, 4].map((test) => yesNo(signatures.map((row) => Number(row[test]))));
    expect(entropyBits(masses)).toBeCloseTo(1.454873, 6);
    expect(expectedTests(masses, tests)).toBeCloseTo(2.86, 9);
  });

  it('needs 2.7222 tests on a small case where looking ahead would need 2.2778', () => {
    // Derived: own search over random instances.
    const masses = [4, 1, 2, 1, 9, 1].map((parts) => parts / 18);
    const rows = [
      [1, 0, 0, 1, 0, 1],
      [0, 0, 0, 1, 0, 1],
      [0, 1, 1, 0, 1, 0],
      [1, 0, 1, 1, 0, 0],
      [0, 1, 1, 1, 0, 0],
    ];
    expect(
      expectedTests(
        masses,
        rows.map((row) => yesNo(row)),
      ),
    ).toBeCloseTo(2.722222, 6);
  });

  it('finds the odd one of twelve balls in three weighings', () => {
    // Source: MacKay 2003, Information Theory, Inference, and Learning Algorithms, ch. 4.
    const worlds = Array.from({ length: 24 }, (_, number) => ({
      ball: number >> 1,
      heavy: number % 2 === 0,
    }));
    const weigh = (left: readonly number[], right: readonly number[]): Observation => ({
      codes: worlds.map(({ ball, heavy }) =>
        left.includes(ball) ? (heavy ? 1 : 2) : right.includes(ball) ? (heavy ? 2 : 1) : 0,
      ),
      rows: [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ],
    });
    const even = worlds.map(() => 1 / 24);
    const balls = (from: number, count: number) => Array.from({ length: count }, (_, index) => from + index);
    const first = (each: number) => expectedInformation(even, weigh(balls(0, each), balls(each, each)));
    expectClose([1, 2, 3, 4, 5, 6].map(first), [0.816689, 1.251629, 1.5, 1.584963, 1.483356, 1.0], 6);

    // A seventh of all ways to load the pans holds a good weighing for every case.
    const contents = Array.from({ length: 3 ** 12 }, (_, number) => number).filter(
      (number) => number % 7 === 0,
    );
    const tests = [weigh(balls(0, 4), balls(4, 4))];
    for (const number of contents) {
      const pans = balls(0, 12).map((ball) => Math.floor(number / 3 ** ball) % 3);
      const left = balls(0, 12).filter((ball) => pans[ball] === 1);
      const right = balls(0, 12).filter((ball) => pans[ball] === 2);
      if (left.length === right.length && left.length >= 1 && left.length <= 4)
        tests.push(weigh(left, right));
      if (tests.length > 4000) break;
    }
    expect(expectedTests(even, tests)).toBeCloseTo(3, 9);
  });

  it('measures the gains of the weather table', () => {
    // Source: Quinlan 1986, Machine Learning 1(1):81-106: entropy 0.940; gains 0.246, 0.029, 0.151, 0.048.
    const rows = [
      'sunny hot high weak no',
      'sunny hot high strong no',
      'overcast hot high weak yes',
      'rain mild high weak yes',
      'rain cool normal weak yes',
      'rain cool normal strong no',
      'overcast cool normal strong yes',
      'sunny mild high weak no',
      'sunny cool normal weak yes',
      'rain mild normal weak yes',
      'sunny mild normal strong yes',
      'overcast mild high strong yes',
      'overcast hot normal weak yes',
      'rain mild high strong no',
    ].map((row) => row.split(' '));
    const masses = rows.map(() => 1 / rows.length);
    const play = { of: rows.map((row) => (row[4] === 'yes' ? 1 : 0)), count: 2 };
    const gain = (attribute: number) => {
      const values = [...new Set(rows.map((row) => row[attribute]))];
      return expectedClassInformation(
        masses,
        {
          codes: rows.map((row) => values.indexOf(row[attribute])),
          rows: values.map((_, code) => values.map((_, answer) => (answer === code ? 1 : 0))),
        },
        play,
      );
    };
    expect(entropyBits([9 / 14, 5 / 14])).toBeCloseTo(0.9403, 4);
    expectClose([0, 1, 2, 3].map(gain), [0.2467, 0.0292, 0.1518, 0.0481], 4);
  });

  it('values a test by what it says about what to do, not about names of faults', () => {
    // Definition: Golovin, Krause & Ray 2010, arXiv:1010.3091; figures derived.
    const masses = [0.4, 0.3, 0.2, 0.1];
    const actions = { of: [0, 0, 1, 2], count: 3 };
    const tests = [
      [1, 1, 0, 0],
      [1, 0, 1, 0],
      [0, 0, 0, 1],
    ].map((column) => yesNo(column));
    expectClose(
      tests.map((test) => expectedInformation(masses, test)),
      [0.881291, 0.970951, 0.468996],
      6,
    );
    expectClose(
      tests.map((test) => expectedClassInformation(masses, test, actions)),
      [0.881291, 0.281291, 0.468996],
      6,
    );
  });

  it('learns the capacity of a noisy answer and no more', () => {
    // Shannon capacity of a symmetric answer (Cover & Thomas 2006, ch. 7): 1 - h(0.1) = 0.5310 bits.
    expect(expectedInformation([0.5, 0.5], yesNo([0, 1], 0.1))).toBeCloseTo(0.531, 4);
  });

  it('has nothing to choose when every test is settled already', () => {
    expect(mostInformative([1, 0], [yesNo([0, 1])])).toBeNull();
    expect(afterAnswer([1, 0], yesNo([0, 1]), 1)).toBeNull();
  });

  it('prefers the cheaper of two tests that tell the same', () => {
    const test = yesNo([0, 1]);
    expect(mostInformative([0.5, 0.5], [test, test], [2, 1])?.index).toBe(1);
  });
});

describe('stopping at a chance', () => {
  // Derived: five faults, six yes-or-no checks wrong one time in ten, each asked at most once; a check costs 1, a wrong
  // call 20. The exact optimum is 5.43684.
  const masses = [0.35, 0.25, 0.2, 0.12, 0.08];
  const checks = [
    [1, 1, 0, 0, 0],
    [1, 0, 1, 0, 0],
    [0, 0, 1, 1, 0],
    [0, 1, 0, 1, 0],
    [0, 0, 0, 0, 1],
    [1, 0, 0, 0, 1],
  ].map((column) => yesNo(column, 0.1));

  function expectedTotal(now: ArrayLike<number>, left: readonly Observation[], stopAt: number): number {
    const largest = Math.max(...Array.from(now));
    const best = largest >= stopAt ? null : mostInformative(now, left);
    if (best === null) return 20 * (1 - largest);
    const check = left[best.index]!;
    const others = left.filter((_, index) => index !== best.index);
    let total = 1;
    for (const answer of [0, 1]) {
      const chance = Array.from(now).reduce(
        (sum, mass, index) => sum + mass * check.rows[check.codes[index]!]![answer]!,
        0,
      );
      total += chance * expectedTotal(afterAnswer(now, check, answer)!, others, stopAt);
    }
    return total;
  }

  it('costs least near 0.8 in the worked example', () => {
    const totals = [0.7, 0.8, 0.9, 0.95, 0.99].map((stopAt) => expectedTotal(masses, checks, stopAt));
    expectClose(totals, [6.15907, 5.60138, 5.69235, 6.46289, 7.61622], 5);
    expect(expectedTotal(masses, checks, 0)).toBeCloseTo(13, 9);
  });
});
