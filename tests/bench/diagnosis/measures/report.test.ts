import { describe, expect, it } from 'vitest';
import { loadContent } from '../../../../src/content/index.ts';
import { FIT_FROM, PERSONS, planRuns, REPORT_FROM } from '../plan.ts';
import { toMarkdown } from '../tables.ts';
import { endingsOf } from './endings.ts';
import { dangerOf, reportOn } from './report.ts';
import type { Decision, Result } from './result.ts';

const decision = (first: readonly string[], chance: number, checks: number): Decision => ({
  kind: 'bench',
  guess: { first, chance, truthChance: chance, deed: `mend ${first[0]}` },
  effort: { checks, notes: 10, seconds: 60 * checks },
});

function result(change: Partial<Result>): Result {
  const engine = decision(['a', 'b', 'c'], 0.5, 4);
  return {
    instrument: 'any',
    person: 'director',
    seed: 1,
    truth: ['a'],
    deeds: ['mend a'],
    danger: 'none',
    engine,
    outcome: 'bench',
    end: 'ticket',
    offers: [],
    strayTurns: 0,
    isStrayTold: false,
    left: ['a'],
    named: ['a'],
    ceiling: engine.guess,
    knowing: engine,
    checklist: engine,
    ...change,
  };
}

describe('a report', () => {
  it('counts first guesses, first three, effort and calibration of the chance stated for the first', () => {
    const { accuracy, economy, calibration } = reportOn([
      result({ truth: ['a'] }),
      result({ truth: ['b'], deeds: ['mend b'], engine: decision(['a', 'b', 'c'], 0.5, 8) }),
    ]);
    expect(accuracy.engine).toEqual({ top1: 0.5, top3: 1, deed: 0.5 });
    expect(economy.engine.checks).toEqual({ mean: 6, p95: 8 });
    expect(economy.engine.seconds.mean).toBe(360);
    expect(calibration.engine.calibrationError).toBeCloseTo(0, 12);
    // Two fair coins: both alike half of the time, and then off by one half.
    expect(calibration.engine.calibrationNoise).toBeCloseTo(0.25, 1);
    expect(calibration.engine.brier).toBeCloseTo(0.25, 12);
    expect(calibration.engine.logLoss).toBeCloseTo(Math.LN2, 12);
  });

  it('leaves those out of accuracy that went to the bench at a danger sign, and counts them for safety', () => {
    const stopped = result({ truth: ['b'], engine: { ...decision(['x'], 0.9, 0), kind: 'danger' } });
    const offer = { fault: 'z', isAtFault: false, isProved: false };
    const { runs, accuracy, safety } = reportOn([result({ offers: [offer], strayTurns: 2 }), stopped]);
    expect(runs).toBe(1);
    expect(accuracy.engine.top1).toBe(1);
    expect(safety).toEqual({ runs: 2, offers: 1, unproved: 1, wrong: 0.5, stray: 1, strayUntold: 1 });
  });

  it('says that 95 % of the seen danger signs are caught only after enough of them', () => {
    const caught = result({ danger: 'seen', outcome: 'bench-now' });
    const missed = result({ danger: 'seen', outcome: 'mended' });
    expect(dangerOf(Array(58).fill(caught)).isShown).toBe(false);
    expect(dangerOf(Array(59).fill(caught)).isShown).toBe(true);
    expect(dangerOf([...Array(59).fill(caught), missed]).isShown).toBe(false);
    expect(dangerOf([result({ danger: 'overlooked', outcome: 'mended' })])).toMatchObject({
      overlooked: 1,
      neverSent: 1,
      seen: 0,
    });
  });
});

describe('the plan', () => {
  const content = loadContent(new URL('../../../../flows/', import.meta.url).pathname);

  it('measures every instrument with every person, and keeps the seeds for fitting and for reporting apart', () => {
    const { plain, robust, danger } = planRuns(content, { runs: 10, from: REPORT_FROM });
    const orders = plain.flatMap((trial) => trial.orders);
    for (const id of content.instruments.keys())
      for (const person of PERSONS)
        expect(orders.some((order) => order.instrument === id && order.person === person)).toBe(true);
    expect(Math.min(...orders.map(({ seed }) => seed))).toBe(REPORT_FROM);
    expect(planRuns(content, { runs: 10, from: FIT_FROM }).plain[0]!.orders.at(-1)!.seed).toBeLessThan(
      REPORT_FROM,
    );
    expect(robust.map(({ name }) => name)).toContain('two faults at once');
    expect(danger.length).toBe(PERSONS.length);
  });

  it('makes no more runs for many instruments than for few, and fewer where little is new', () => {
    const count = (only?: string[]) => {
      const { plain, robust } = planRuns(content, {
        runs: 600,
        from: 1,
        ...(only === undefined ? {} : { only }),
      });
      return { all: [...plain, ...robust].flatMap(({ orders }) => orders).length, plain };
    };
    const rounding = PERSONS.length * content.instruments.size;
    expect(Math.abs(count().all - 600)).toBeLessThanOrEqual(rounding);
    expect(Math.abs(count(['alto-saxophone']).all - 600)).toBeLessThanOrEqual(rounding);
    const [first, , , next] = count(['alto-saxophone', 'tenor-saxophone']).plain;
    expect(next!.orders.length).toBeLessThan(first!.orders.length);
  });

  it('needs an instrument', () => {
    expect(() => planRuns(content, { runs: 1, from: 1, only: ['bagpipe'] })).toThrow(RangeError);
  });
});

describe('a markdown table', () => {
  it('has a line for the columns and one for each row', () => {
    expect(
      toMarkdown([
        { what: 'a', much: '1' },
        { what: 'b', much: '2' },
      ]),
    ).toBe('| what | much |\n| --- | --- |\n| a | 1 |\n| b | 2 |');
  });
});

describe('how runs with hidden faults end', () => {
  const two = (left: string[], named: string[], end: Result['end'] = 'ticket') =>
    result({ truth: ['a', 'b'], left, named, end });

  it('tells what was mended, named, forgotten and called well apart, by how many faults were hidden', () => {
    const ended = endingsOf(
      [
        two([], [], 'plays'),
        two(['b'], ['b']),
        two(['b'], ['c']),
        two(['b'], [], 'plays'),
        two(['a', 'b'], ['a']),
        result({ left: [], end: 'plays' }),
      ],
      2,
    );
    expect(ended).toEqual({ runs: 5, mended: 0.2, dealtWith: 0.4, forgotten: 0.4, calledWell: 0.2 });
  });

  it('counts a fault that treatment made as nothing that was hidden, and leaves out what is healthy or in no list', () => {
    expect(endingsOf([result({ left: ['tight@x'], named: [] })], 1)).toMatchObject({ runs: 1, mended: 1 });
    expect(endingsOf([result({ truth: ['healthy'] }), result({ truth: ['something-else'] })], 1).runs).toBe(
      0,
    );
  });
});
