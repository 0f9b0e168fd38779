/** What a chart's author is told when something does not fit. */
import { describe, expect, test } from 'vitest';
import { FlowError, FlowEvent, MainFile, type ProcedureFile } from '../../src/flow/index.ts';
import { Condition } from '../../src/flow/schema.ts';
import {
  alterCharts,
  choiceOf,
  compileFlow,
  type Editable,
  procedureOf,
  realCharts,
  stateOf,
} from './support.ts';

type Mistake = {
  what: string;
  change: (charts: Editable) => void;
  says: RegExp;
  file?: string;
  state?: string;
  path?: (string | number)[];
};
const screw = (charts: Editable): ProcedureFile => procedureOf(charts, 'turn-screw');

const mistakes: Mistake[] = [
  {
    what: 'an answer taken for granted that the page does not offer',
    change: ({ main }) => Object.assign(stateOf(main, 'owner-word'), { withoutAdjusting: 'never' }),
    says: /takes the answer "never" for granted, which it does not offer; its answers are yes, no, /,
    file: 'main.yaml',
    state: 'owner-word',
    path: ['states', 'owner-word', 'withoutAdjusting'],
  },
  {
    what: 'an answer that leads to no state',
    change: ({ main }) => Object.assign(choiceOf(main, 'needed', 'now'), { to: 'bench-witch' }),
    says: /leads to "bench-witch", which is not a state of this chart; its states are understood, owner, /,
    file: 'main.yaml',
    state: 'needed',
    path: ['states', 'needed', 'choices', 0],
  },
  {
    what: 'a starting state that is not there',
    change: (charts) => Object.assign(screw(charts), { starts: 'beginning' }),
    says: /starts at "beginning"/,
    file: 'procedures/turn-screw.yaml',
    path: ['starts'],
  },
  {
    what: 'an exit that is not declared',
    change: (charts) => Object.assign(choiceOf(screw(charts), 'keep', 'done'), { exit: 'finished' }),
    says: /leaves by the exit "finished", which is not declared; the exits are done, unchanged/,
    state: 'keep',
  },
  {
    what: 'an exit in the main chart',
    change: ({ main }) => Object.assign(choiceOf(main, 'needed', 'now'), { to: undefined, exit: 'done' }),
    says: /only procedures have exits/,
  },
  {
    what: 'an exit of a procedure that the main chart does not know',
    change: ({ main }) => delete stateOf(main, 'procedure').exits.cannot,
    says: /does not say where to go when turn-screw ends by "cannot"/,
    state: 'procedure',
  },
  {
    what: 'an exit that leads on only sometimes',
    change: ({ main }) => stateOf(main, 'procedure').exits.done.pop(),
    says: /the last branch of an exit must have no condition/,
  },
  {
    what: 'a route that can get stuck',
    change: ({ main }) => stateOf(main, 'well').go.pop(),
    says: /the last branch of a route must have no condition/,
    state: 'well',
  },
  {
    what: 'two answers of one page with one id',
    change: ({ main }) =>
      choiceOf(main, 'needed', 'soon').id === 'soon' &&
      Object.assign(choiceOf(main, 'needed', 'soon'), { id: 'now' }),
    says: /offers the answer "now" twice/,
  },
  {
    what: 'a condition on a name that nobody remembers',
    change: ({ main }) =>
      Object.assign(stateOf(main, 'to-play-test').go[0], { when: [{ flag: 'canSing', is: false }] }),
    says: /asks for the flag "canSing", which no memory has/,
  },
  {
    what: 'a comparison with a word that cannot be',
    change: ({ main }) =>
      Object.assign(stateOf(main, 'to-bench').go[0], { when: [{ word: 'urgency', is: 'yesterday' }] }),
    says: /compares "urgency" with "yesterday"; it can be hold, now/,
  },
  {
    what: 'a value that a word cannot hold',
    change: ({ main }) => Object.assign(choiceOf(main, 'needed', 'now'), { set: { urgency: 'soonish' } }),
    says: /sets "urgency" to "soonish", which it cannot hold/,
  },
  {
    what: 'counting something that is no counter',
    change: (charts) =>
      Object.assign(choiceOf(screw(charts), 'turn-eighth', 'turned'), { count: { turns: 1 } }),
    says: /counts "turns", which is not a counter/,
  },
  {
    what: 'a name of a procedure that the main chart uses too',
    change: (charts) =>
      Object.assign(screw(charts).memory.counters, { tried: { from: 0, to: 1, means: 'M' } }),
    says: /remembers "tried", which is a name of the main chart/,
  },
  {
    what: 'a flag missing that the proofs need',
    change: ({ main }) => delete main.memory.flags.approved,
    says: /needs the flag "approved"/,
  },
  {
    what: 'a blank that nobody fills',
    change: (charts) =>
      Object.assign(stateOf(screw(charts), 'put-back'), { ask: 'Turn it back {{backwards}}.' }),
    says: /uses \{\{backwards\}\}, which is not a placeholder; there are place, driver/,
    file: 'procedures/turn-screw.yaml',
    state: 'put-back',
    path: ['states', 'put-back', 'ask'],
  },
  {
    what: 'a blank in an outcome that nobody fills',
    change: ({ outcomes }) => Object.assign(outcomes.outcomes[0]!, { lead: '{{price}}' }),
    says: /uses \{\{price\}\}/,
    file: 'outcomes.yaml',
  },
  {
    what: 'a condition about texts that decides the way',
    change: ({ main }) => Object.assign(stateOf(main, 'to-play-test').go[0], { when: [{ has: 'test' }] }),
    says: /can only stand in variants/,
  },
  {
    what: 'a caution that is not there',
    change: ({ main }) => stateOf(main, 'owner').cautions.push('beware'),
    says: /names the caution "beware"/,
    path: ['states', 'owner', 'cautions', 1],
  },
  {
    what: 'an outcome that is not there',
    change: ({ main }) => Object.assign(stateOf(main, 'mended'), { outcome: 'cured' }),
    says: /ends with the outcome "cured"; outcomes.yaml has mended,/,
  },
  {
    what: 'a job that is not there',
    change: ({ outcomes }) => Object.assign(outcomes.outcomes[0]!, { job: 'magic' }),
    says: /names the job "magic"; jobs.yaml has .*look-and-advise/,
  },
  {
    what: 'an adjusting procedure without a supervisor',
    change: (charts) => Object.assign(screw(charts), { supervised: false }),
    says: /a helper needs a supervisor/,
  },
  {
    what: 'an adjusting procedure for the desk',
    change: (charts) => screw(charts).persons.push('desk'),
    says: /the desk cannot do it/,
  },
  {
    what: 'turns counted in a counter that is not there',
    change: (charts) => Object.assign(screw(charts), { turns: 'turnings' }),
    says: /counts turns in "turnings", which is not one of its counters/,
  },
  {
    what: 'two procedures with one id',
    change: (charts) => charts.procedures.push(screw(charts)),
    says: /the id "turn-screw" is used by two files/,
  },
  {
    what: 'no state for the procedures',
    change: ({ main }) => delete main.states.procedure,
    says: /needs exactly one state of kind procedure/,
  },
];

describe('charts that do not fit together', () => {
  test.each(mistakes)(
    '$what: the file, the state and the place are named',
    ({ change, says, file, state, path }) => {
      const charts = alterCharts((copy) => void change(copy));
      const problems = catchProblems(() => compileFlow(charts));
      const problem = problems.find(({ message }) => says.test(message));
      expect(problem, JSON.stringify(problems, null, 1)).toBeDefined();
      expect(problem).toMatchObject({
        ...(file && { file }),
        ...(state && { state }),
        ...(path && { path }),
      });
    },
  );

  test('are told all at once', () => {
    const charts = alterCharts(({ main }) => {
      Object.assign(choiceOf(main, 'needed', 'now'), { to: 'nowhere' });
      Object.assign(choiceOf(main, 'owner-word', 'no'), { to: 'elsewhere' });
    });
    expect(catchProblems(() => compileFlow(charts)).map(({ state }) => state)).toEqual([
      'owner-word',
      'needed',
    ]);
  });
});

function catchProblems(step: () => unknown) {
  try {
    step();
  } catch (error) {
    if (error instanceof FlowError) return error.problems;
    throw error;
  }
  throw new Error('nothing was found wrong');
}

describe('a condition', () => {
  test.each([
    [{ person: 'desk' }],
    [{ flag: 'canPlay', is: true }],
    [{ word: 'urgency', is: ['now', 'hold'] }],
    [{ counter: 'turned', atLeast: 8 }],
    [{ confirmed: true }],
  ])('may be %j', (condition) => expect(Condition.safeParse(condition).success).toBe(true));

  test.each([
    [{}, 'exactly one'],
    [{ person: 'desk', adjusts: true }, 'exactly one'],
    [{ flag: 'canPlay' }, 'needs "is"'],
    [{ confirmed: true, is: true }, 'nothing else has it'],
    [{ counter: 'turned' }, 'needs "atLeast" or "atMost"'],
    [{ person: 'desk', atLeast: 1 }, 'nothing else has them'],
  ])('may not be %j', (condition, says) => {
    expect(Condition.safeParse(condition).error?.issues[0]?.message).toContain(says);
  });
});

describe('the shape of a chart', () => {
  const main = (change: Record<string, unknown>) => MainFile.safeParse({ ...realCharts.main, ...change });

  test('a list of one may be written without the list', () => {
    const branch = { to: 'owner', when: { person: 'desk' } };
    const parsed = main({
      states: { here: { kind: 'check', group: 'isolate', title: 'T', ask: 'A', recorded: branch } },
    });
    expect(parsed.data?.states.here).toMatchObject({
      recorded: [{ to: 'owner', when: [{ person: 'desk' }] }],
    });
  });

  test('an answer without a target is refused', () => {
    const parsed = main({ wayOut: { id: 'stop', label: 'Stop' } });
    expect(parsed.error?.issues[0]).toMatchObject({
      path: ['wayOut'],
      message: expect.stringContaining('say where the answer leads'),
    });
  });

  test('a misspelt key is refused', () => {
    const parsed = main({ states: { here: { kind: 'outcome', outcom: 'mended' } } });
    expect(parsed.error?.issues.map(({ code }) => code)).toContain('unrecognized_keys');
  });

  test('a verdict that a weigh state does not handle is refused', () => {
    const parsed = main({ states: { here: { kind: 'weigh', verdicts: { check: { to: 'owner' } } } } });
    expect(parsed.error?.issues.map(({ path }) => path.at(-1))).toEqual(
      expect.arrayContaining(['danger', 'treat']),
    );
  });
});

test('an event of an unknown kind is refused by its schema', () => {
  expect(FlowEvent.safeParse({ type: 'choice', choice: 'done' }).success).toBe(true);
  expect(FlowEvent.safeParse({ type: 'verdict', verdict: 'guess' }).success).toBe(false);
  expect(FlowEvent.safeParse({ type: 'recorded', confirms: [], more: 1 }).success).toBe(false);
});
