import { describe, expect, test } from 'vitest';
import { findLoops, inspectGraph, reachFrom } from '../../src/flow/proof/graph.ts';

/**
 * A graph of ten states with planted faults and what a verifier must report of it, worked out by hand. The kinds of fault
 * are those of Heimdahl and Leveson 1996 (IEEE Transactions on Software Engineering 22(6), 363-377: no two transitions for
 * one event), Leveson 1995 (every circle has an exit), and van der Aalst 1998 (every state is reached and can finish).
 */
const edges = {
  start: [{ on: 'begin', to: 'q1' }],
  q1: [
    { on: 'yes', to: 'q2' },
    { on: 'no', to: 'q3' },
    { on: 'unsure', to: 'q3' },
  ],
  q2: [
    { on: 'yes', to: 'fix' },
    { on: 'no', to: 'q3' },
  ],
  q3: [
    { on: 'yes', to: 'bench' },
    { on: 'no', to: 'q1' },
    { on: 'no', to: 'fix' },
  ],
  fix: [
    { on: 'ok', to: 'done' },
    { on: 'still', to: 'retry' },
  ],
  retry: [{ on: 'again', to: 'fix' }],
  bench: [{ on: 'booked', to: 'done' }],
  orphan: [{ on: 'x', to: 'done' }],
  trap: [{ on: 'x', to: 'trap' }],
  done: [],
};

describe('the worked graph with planted faults', () => {
  const report = inspectGraph({ start: 'start', finals: ['done'], edges });

  test('has eight states that can be reached, and two that cannot', () => {
    expect(report.reachable).toHaveLength(8);
    expect(report.unreachable).toEqual(['orphan', 'trap']);
  });

  test('has one state that cannot finish', () => expect(report.stuck).toEqual(['trap']));

  test('has one state with two transitions for one answer', () =>
    expect(report.nondeterministic).toEqual(['q3']));

  test('has three circles', () => {
    expect(report.loops.map((loop) => loop.join(' ')).sort()).toEqual(['fix retry', 'q1 q2 q3', 'trap']);
  });

  test('has 13 transitions and 25 pairs of them', () => {
    expect(report.transitions).toBe(13);
    expect(report.transitionPairs).toBe(25);
  });
});

test('a graph without faults is reported without faults', () => {
  const report = inspectGraph({ start: 'a', finals: ['b'], edges: { a: [{ on: 'x', to: 'b' }], b: [] } });
  expect(report).toMatchObject({ unreachable: [], stuck: [], nondeterministic: [], loops: [] });
});

test('reaching follows circles once', () => {
  const next: Record<number, number[]> = { 1: [2], 2: [3], 3: [1, 4], 4: [] };
  expect([...reachFrom([1], (state) => next[state]!)].sort()).toEqual([1, 2, 3, 4]);
});

test('circles that share a state are one', () => {
  const next: Record<string, string[]> = { a: ['b'], b: ['a', 'c'], c: ['b'], d: ['a'] };
  expect(findLoops(Object.keys(next), (state) => next[state]!)).toEqual([['a', 'b', 'c']]);
});
