import { describe, expect, test } from 'vitest';
import { type Charts, type Flow, type ProofReport, proveFlow } from '../../src/flow/index.ts';
import { State } from '../../src/flow/schema.ts';
import {
  choiceOf,
  compileFlow,
  type Editable,
  procedureOf,
  realFlow,
  smallCharts,
  stateOf,
} from './support.ts';

const LONG = 120_000;

/** A page for altered charts. */
const page = (choices: unknown[]) => State.parse({ kind: 'question', title: 'T', ask: 'A', choices });
const failed = ({ properties }: ProofReport) =>
  properties.filter(({ failures }) => failures.length > 0).map(({ id }) => id);
const told = ({ properties }: ProofReport, id: string) =>
  properties.find((property) => property.id === id)!.failures;
const screw = (charts: Editable) => procedureOf(charts, 'turn-screw');

describe('the charts that are served', () => {
  test('have every property, over every configuration that any answers can bring about', {
    timeout: LONG,
  }, () => {
    const report = proveFlow(realFlow);
    expect(failed(report)).toEqual([]);
    expect(report.holds).toBe(true);
    expect(report.size!.configurations).toBeGreaterThan(10_000);
    expect(report.size!.longestProcedure).toBeLessThan(50);
  });

  test('have them in the small cut that the next tests break', { timeout: LONG }, () => {
    expect(failed(proveFlow(smallCharts(() => {})))).toEqual([]);
  });
});

type Break = { breaks: string; by: string; change: (charts: Editable) => void; says: RegExp; way?: RegExp };

const breaks: Break[] = [
  {
    breaks: 'every-state-reached',
    by: 'adding a page that nothing leads to',
    change: ({ main }) => {
      main.states.orphan = page([{ id: 'on', label: 'On', to: 'owner' }]);
    },
    says: /no answers lead to orphan/,
  },
  {
    breaks: 'outcome-reachable',
    by: 'letting an answer lead into a trap',
    change: ({ main }) => {
      main.states.trap = page([{ id: 'stop', label: 'Round', tone: 'quiet', to: 'trap' }]);
      Object.assign(choiceOf(main, 'owner-word', 'no'), { to: 'trap' });
    },
    says: /no outcome can be reached/,
    way: /owner-word: choice no/,
  },
  {
    breaks: 'answers-handled',
    by: 'taking away the last branch of an answer',
    change: ({ main }) => choiceOf(main, 'owner', 'school').go.pop(),
    says: /"choice school" is offered here, but no branch takes it/,
    way: /begin as (director|helper)/,
  },
  {
    breaks: 'answers-handled',
    by: 'taking a verdict only from some',
    change: ({ main }) =>
      Object.assign(stateOf(main, 'weigh').verdicts.bench[0], { when: [{ flag: 'canPlay', is: true }] }),
    says: /"verdict bench" is offered here/,
  },
  {
    breaks: 'counters-bounded',
    by: 'letting attempts go on without limit',
    change: ({ main }) => stateOf(main, 'weigh').verdicts.treat.splice(3, 1),
    says: /the counter "tried" stands at 2, outside 0 to 1/,
  },
  {
    breaks: 'pages-wind-on',
    by: 'leading from one page back to an earlier one',
    change: ({ main }) =>
      Object.assign(choiceOf(main, 'danger-clean', 'not-known'), { go: [{ to: 'owner' }] }),
    says: /danger-clean, .*owner.* lead in a circle/,
  },
  {
    breaks: 'procedures-end',
    by: 'letting two pages of a procedure lead to each other',
    change: (charts) =>
      Object.assign(choiceOf(screw(charts), 'be-sure', 'not-sure'), { to: 'find-screw', exit: undefined }),
    says: /be-sure, .*find-screw can go round for ever/,
  },
  {
    breaks: 'confirmed-first',
    by: 'treating without a proof',
    change: ({ main }) => {
      for (const branch of stateOf(main, 'weigh').verdicts.treat) {
        branch.when = branch.when.filter(
          (condition: { confirmed?: boolean }) => condition.confirmed === undefined,
        );
        if (branch.when.length === 0) delete branch.when;
      }
    },
    says: /is entered although fault-a has not been proved/,
    way: /weigh: verdict treat fault-a by/,
  },
  {
    breaks: 'desk-never-adjusts',
    by: 'forgetting that the desk holds no instrument',
    change: ({ main }) => {
      const treat = stateOf(main, 'weigh').verdicts.treat;
      treat.splice(0, 3);
    },
    says: /the desk is led into turn-screw/,
    way: /begin as desk/,
  },
  {
    breaks: 'helper-approved',
    by: 'leaving the supervisor out',
    change: ({ main }) => choiceOf(main, 'before-treat', 'ready').go.shift(),
    says: /a helper is led into .* without a supervisor's word/,
    way: /begin as helper/,
  },
  {
    breaks: 'owner-allows',
    by: 'not asking the owner',
    change: ({ main }) => stateOf(main, 'weigh').verdicts.treat.splice(2, 1),
    says: /turn-screw adjusts something although the owner has not allowed it/,
  },
  {
    breaks: 'person-may',
    by: 'not asking for whom a procedure is',
    change: (charts) => {
      screw(charts).persons = ['director'];
      stateOf(charts.main, 'weigh').verdicts.treat.shift();
    },
    says: /turn-screw is not for a helper/,
  },
  {
    breaks: 'danger-ends',
    by: 'going on after a danger sign',
    change: ({ main }) => Object.assign(stateOf(main, 'weigh').verdicts.danger[0], { to: 'isolate' }),
    says: /a danger sign at weigh leads on to isolate/,
  },
  {
    breaks: 'outcomes-complete',
    by: 'leaving out what to do until it is mended, and the cautions',
    change: ({ outcomes }) => Object.assign(outcomes.outcomes[0]!, { untilMended: [], cautions: [] }),
    says: /the outcome mended lacks a caution and what to do until it is mended/,
  },
  {
    breaks: 'way-out',
    by: 'leading the way out of a page back to it',
    change: ({ main }) =>
      stateOf(main, 'not-yet').choices.push({ id: 'stop', label: 'Stop', tone: 'quiet', to: 'not-yet' }),
    says: /not-yet has no quiet way out/,
  },
  {
    breaks: 'turns-declared',
    by: 'turning without a counter',
    change: (charts) => {
      delete screw(charts).turns;
    },
    says: /turn-quarter, turn-eighth turns something, but no counter is named/,
  },
  {
    breaks: 'turns-counted',
    by: 'not counting an eighth',
    change: (charts) => delete choiceOf(screw(charts), 'turn-eighth', 'turned').count,
    says: /turn-eighth goes on to test without counting what was turned/,
  },
  {
    breaks: 'turns-limited',
    by: 'turning on while it is better',
    change: (charts) => choiceOf(screw(charts), 'test', 'better').go.splice(0, 2),
    says: /the counter "turned" stands at 9|the counter "turned" stands at 10/,
    way: /turn-quarter: choice turned/,
  },
  {
    breaks: 'test-after-turn',
    by: 'turning twice without a test',
    change: (charts) =>
      Object.assign(choiceOf(screw(charts), 'turn-quarter', 'turned'), { to: 'turn-eighth' }),
    says: /turn-quarter goes on to turn-eighth, which is neither a test nor the putting back/,
  },
  {
    breaks: 'stop-sign',
    by: 'passing over the sign to stop',
    change: (charts) => Object.assign(choiceOf(screw(charts), 'test', 'gone'), { to: 'too-far' }),
    says: /test can lead to turning on, but never to the sign that says stop/,
  },
  {
    breaks: 'overshoot',
    by: 'leaving out the test for too far',
    change: (charts) => Object.assign(choiceOf(screw(charts), 'stop-sign', 'yes'), { to: 'keep' }),
    says: /keep can be reached from turning without the test for too far/,
  },
  {
    breaks: 'overshoot',
    by: 'having no way to take an eighth back',
    change: (charts) => choiceOf(screw(charts), 'too-far', 'too-far').go.pop(),
    says: /too-far offers no way to take an eighth back/,
  },
  {
    breaks: 'put-back',
    by: 'offering no way back from the last page',
    change: (charts) =>
      stateOf(screw(charts), 'keep').choices.push({
        id: 'stop',
        label: 'Stop',
        tone: 'quiet',
        exit: 'bench',
      }),
    says: /at procedure.turn-screw.keep 2 eighths are turned, and no answer leads to putting them back/,
    way: /too-far: choice fine/,
  },
  {
    breaks: 'turns-accounted',
    by: 'walking away from a turned screw',
    change: (charts) => {
      screw(charts).wayOut = { id: 'stop', label: 'Stop', tone: 'quiet', exit: 'stopped' };
    },
    says: /"choice stop" leaves by "stopped", which says as-found, with 2 eighths turned/,
    way: /test$/,
  },
  {
    breaks: 'counted-on-ticket',
    by: 'ending without a ticket where a screw was left turned',
    change: ({ main }) => Object.assign(stateOf(main, 'procedure').exits.bench[0], { to: 'nothing-found' }),
    says: /a screw is left turned, and the run ends as nothing-found, which has no ticket/,
  },
];

describe('a broken chart is caught, with a message that says where', () => {
  test.each(breaks)('$breaks: by $by', { timeout: LONG }, ({ breaks: id, change, says, way }) => {
    const report = proveFlow(smallCharts(change));
    expect(report.holds).toBe(false);
    expect(failed(report)).toContain(id);
    const failure = told(report, id).find(({ message }) => says.test(message));
    expect(failure, JSON.stringify(told(report, id), null, 1)).toBeDefined();
    if (way !== undefined) expect(failure!.path.join('\n')).toMatch(way);
  });

  test('answers-offered: by a page that hides an answer which is still taken', { timeout: LONG }, () => {
    const flow = compileFlow(smallCharts(() => {}));
    const hiding: Flow = {
      ...flow,
      step: (state, has) => {
        const step = flow.step(state, has);
        return { ...step, choices: step.choices.filter(({ id }) => id !== 'unfit') };
      },
    };
    expect(told(proveFlow(hiding), 'answers-offered')).toEqual([
      { message: 'danger-clean takes "choice.unfit", which no page there offers', path: [] },
    ]);
  });

  test('fits-together: routes in a circle, in which nobody is asked, are refused before they can hang', () => {
    const charts: Charts = smallCharts(({ main }) => {
      stateOf(main, 'bench-which').go.at(-1).to = 'to-bench';
    });
    const report = proveFlow(charts);
    expect(report).toMatchObject({ holds: false, size: null });
    expect(told(report, 'fits-together').map(({ message }) => message)).toContainEqual(
      expect.stringMatching(
        /main\.yaml, state to-bench: goes in a circle of routes .*a run would never come out/,
      ),
    );
  });

  test('a counterexample is a way that can be walked', { timeout: LONG }, () => {
    const broken = smallCharts(({ main }) => choiceOf(main, 'before-treat', 'ready').go.shift());
    const [failure] = told(proveFlow(broken), 'helper-approved');
    const flow = compileFlow(broken);
    let state = flow.begin({ person: 'helper', tools: [] });
    for (const line of failure!.path.slice(1, -1)) {
      const [at, event] = line.split(': ') as [string, string];
      expect(state.at).toBe(at);
      const result = flow.take(state, toEvent(event));
      if ('refused' in result) throw new Error(result.refused);
      state = result.state;
    }
    expect(state.at).toBe(failure!.path.at(-1));
    expect(state.context).toMatchObject({ person: 'helper', flags: { approved: false } });
  });
});

/** An event from its name in a counterexample. */
function toEvent(name: string): Parameters<Flow['take']>[1] {
  const [type, first, fault, , procedure] = name.split(' ');
  if (type === 'choice') return { type: 'choice', choice: first! };
  if (type !== 'verdict')
    return { type: 'recorded', confirms: name.startsWith('recorded, proves ') ? [name.slice(17)] : [] };
  return {
    type: 'verdict',
    verdict: first as 'check',
    ...(fault === undefined ? {} : { fault }),
    ...(procedure === undefined ? {} : { procedure, direction: 'in' }),
  };
}
