/**
 * The compiled charts behave as the SCXML recommendation (W3C, 1 September 2015) has it. These are tests of our own for the
 * assertions that a chart under flows/ can meet; there are no parallel states, histories or timers in it.
 */
import { describe, expect, test } from 'vitest';
import { MainFile, ProcedureFile } from '../../src/flow/index.ts';
import { alterCharts, compileFlow, type Editable, recorded, say, sayAll, verdict } from './support.ts';

const page = (choices: unknown[]) => ({ kind: 'question', title: 'T', ask: 'A', choices });
const source = ['common practice, no source'];
const wayOut = { id: 'stop', label: 'Stop', to: 'end' };
const flag = (starts: boolean) => ({ starts, means: 'M' });
const counter = (to: number) => ({ from: 0, to, means: 'M' });
const anywhere = { to: 'end' };
const toVerdicts = (treat: unknown) => ({
  check: anywhere,
  confirm: anywhere,
  treat,
  bench: anywhere,
  healthy: anywhere,
  danger: anywhere,
});

/** A flow of these main states, with one procedure `work` that has the exits `out` and `put`. */
function flowOf(states: Record<string, unknown>, starts: string, inner: Record<string, unknown> = {}) {
  const charts = alterCharts((copy: Editable) => {
    copy.main = MainFile.parse({
      chart: 'main',
      source,
      wayOut,
      starts,
      memory: {
        flags: { canPlay: flag(true), ownerAllows: flag(false), approved: flag(false), seen: flag(false) },
        counters: { order: counter(99) },
      },
      states: {
        end: { kind: 'outcome', outcome: 'stopped' },
        procedure: { kind: 'procedure', exits: { out: [{ to: 'after', count: { order: 1 } }] } },
        after: page([{ id: 'on', label: 'On', to: 'end' }]),
        ...states,
      },
    });
    copy.procedures = [
      ProcedureFile.parse({
        procedure: 'work',
        title: 'T',
        aim: 'A',
        part: 'mechanism',
        adjusts: false,
        supervised: false,
        persons: ['director'],
        tools: [],
        cautions: [],
        source,
        exits: { out: { leaves: 'counted' } },
        turns: 'turned',
        memory: { counters: { turned: counter(9) } },
        starts: 'second',
        wayOut: { id: 'stop', label: 'Stop', exit: 'out' },
        states: {
          first: page([{ id: 'on', label: 'On', exit: 'out', count: { turned: 5 } }]),
          second: page([{ id: 'on', label: 'On', to: 'first', count: { turned: 1 } }]),
          ...inner,
        },
      }),
    ];
  });
  return compileFlow(charts);
}
const opening = { person: 'director', tools: [] } as const;

describe('where a chart begins', () => {
  test('is its starting state, wherever that stands in the file', () => {
    const flow = flowOf(
      {
        first: page([{ id: 'on', label: 'On', to: 'end' }]),
        other: page([{ id: 'on', label: 'On', to: 'first' }]),
      },
      'other',
    );
    expect(flow.begin(opening).at).toBe('other');
  });

  test('is found at once when it is a route', () => {
    const flow = flowOf(
      { road: { kind: 'route', go: [{ when: { person: 'desk' }, to: 'end' }, { to: 'after' }] } },
      'road',
    );
    expect(flow.begin(opening).at).toBe('after');
  });
});

describe('which branch is taken', () => {
  const go = (...branches: unknown[]) =>
    flowOf({ here: page([{ id: 'on', label: 'On', go: branches }]) }, 'here');

  test('the first in the file of several that could be', () => {
    const flow = go(
      { when: { person: 'director' }, to: 'after' },
      { when: { flag: 'canPlay', is: true }, to: 'end' },
      { to: 'here' },
    );
    expect(say(flow, flow.begin(opening), 'on').at).toBe('after');
  });

  test('a later one when the condition of the first does not hold', () => {
    const flow = go({ when: { person: 'desk' }, to: 'after' }, { to: 'end' });
    expect(say(flow, flow.begin(opening), 'on').at).toBe('end');
  });

  test('by what was remembered before the answer, not by what the answer sets', () => {
    const flow = flowOf(
      {
        here: page([
          {
            id: 'on',
            label: 'On',
            set: { seen: true },
            go: [{ when: { flag: 'seen', is: true }, to: 'end' }, { to: 'here' }],
          },
        ]),
      },
      'here',
    );
    const once = say(flow, flow.begin(opening), 'on');
    expect(once.at).toBe('here');
    expect(say(flow, once, 'on').at).toBe('end');
  });

  test('none, and nothing is remembered, when no condition holds', () => {
    const flow = flowOf(
      { here: page([{ id: 'on', label: 'On', when: { person: 'desk' }, to: 'end', set: { seen: true } }]) },
      'here',
    );
    const state = flow.begin(opening);
    expect(flow.take(state, { type: 'choice', choice: 'on' })).toHaveProperty('refused');
  });
});

describe('eventless branches', () => {
  test('are followed before anything else is heard, with what was remembered on the way', () => {
    const flow = flowOf(
      {
        here: page([{ id: 'on', label: 'On', to: 'road', set: { seen: true } }]),
        road: {
          kind: 'route',
          go: [{ when: { flag: 'seen', is: true }, to: 'lane', count: { order: 1 } }, { to: 'end' }],
        },
        lane: { kind: 'route', go: [{ when: { counter: 'order', atLeast: 1 }, to: 'after' }, { to: 'end' }] },
      },
      'here',
    );
    expect(say(flow, flow.begin(opening), 'on').at).toBe('after');
  });
});

describe('entering and leaving a procedure', () => {
  const treat = [{ when: { confirmed: true }, to: 'procedure' }];
  const states = {
    check: { kind: 'check', group: 'isolate', title: 'T', ask: 'A', recorded: { to: 'weigh' } },
    weigh: { kind: 'weigh', verdicts: toVerdicts(treat) },
  };
  const work = verdict('treat', { fault: 'f', procedure: 'work', direction: 'in' });

  test('begins at the starting state of the chart in hand, with its memory fresh', () => {
    const flow = flowOf(states, 'check');
    const inside = sayAll(flow, flow.begin(opening), [recorded('f'), work]);
    expect(inside.at).toBe('procedure.work.second');
    expect(inside.context.counters).toMatchObject({ turned: 0, order: 0 });
  });

  test('takes the inner effects first, then writes the repair down, then takes the outer effects', () => {
    const flow = flowOf(states, 'check');
    const after = sayAll(flow, flow.begin(opening), [recorded('f'), work, 'on', 'on']);
    expect(after.at).toBe('after');
    expect(after.context.repairs).toEqual([
      { procedure: 'work', fault: 'f', direction: 'in', turned: 6, exit: 'out', leaves: 'counted' },
    ]);
    expect(after.context.counters).toEqual({ order: 1 });
  });

  test('uses up the proof: the same fault must be proved again', () => {
    const flow = flowOf({ ...states, after: page([{ id: 'again', label: 'Again', to: 'weigh' }]) }, 'check');
    const again = sayAll(flow, flow.begin(opening), [recorded('f', 'g'), work, 'on', 'on', 'again']);
    expect(again.context.confirmed).toEqual(['g']);
    expect(flow.take(again, work)).toHaveProperty('refused');
  });
});

describe('what is not an answer', () => {
  const flow = flowOf({ here: page([{ id: 'done', label: 'Done', to: 'end' }]) }, 'here');
  const here = flow.begin(opening);

  test.each(['', '*', '.', 'done.more', 'don', 'done-more', '__proto__', 'toString', 'xstate.init'])(
    '"%s" is refused with the answers that there are',
    (choice) => {
      expect(flow.take(here, { type: 'choice', choice })).toEqual({
        refused: expect.stringContaining('done, stop'),
      });
    },
  );

  test('a record or a verdict at a question is refused', () => {
    expect(flow.take(here, recorded('f'))).toHaveProperty('refused');
    expect(flow.take(here, verdict('healthy'))).toHaveProperty('refused');
  });

  test('nothing is taken after an outcome', () => {
    const ended = say(flow, here, 'done');
    expect(flow.step(ended).kind).toBe('outcome');
    expect(flow.take(ended, { type: 'choice', choice: 'done' })).toEqual({ refused: 'This run has ended.' });
  });

  test('a state of another edition is an error that names it', () => {
    expect(() => flow.step({ ...here, at: 'gone' })).toThrow('this flow has no state "gone"');
    expect(() => flow.take({ ...here, at: 'gone' }, recorded())).toThrow(RangeError);
  });
});

test('a step changes nothing of the state that it was given', () => {
  const flow = flowOf(
    { here: page([{ id: 'on', label: 'On', to: 'end', set: { seen: true }, count: { order: 1 } }]) },
    'here',
  );
  const state = flow.begin(opening);
  const before = structuredClone(state);
  say(flow, state, 'on');
  expect(state).toEqual(before);
  expect(JSON.parse(JSON.stringify(state))).toEqual(state);
});
