import { describe, expect, test } from 'vitest';
import { type Charts, type Flow, type ProofReport, proveFlow } from '../../src/flow/index.ts';
import { breaks } from './breaks.ts';
import { choiceOf, compileFlow, realFlow, smallCharts, stateOf } from './support.ts';

const LONG = 120_000;

const failed = ({ properties }: ProofReport) =>
  properties.filter(({ failures }) => failures.length > 0).map(({ id }) => id);
const told = ({ properties }: ProofReport, id: string) =>
  properties.find((property) => property.id === id)!.failures;

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
