/** Charts to test with: the real ones, a small cut of them, and altered copies. */
import { loadFlow } from '../../src/content/index.ts';
import {
  type Charts,
  compileFlow,
  type Flow,
  type FlowEvent,
  type FlowState,
  type MainFile,
  type ProcedureFile,
} from '../../src/flow/index.ts';

export const flowsFolder = new URL('../../flows', import.meta.url).pathname;

/** Charts that a test may change at will. */
export type Editable = { main: MainFile; procedures: ProcedureFile[] } & Pick<
  Charts,
  'outcomes' | 'jobs' | 'cautions' | 'blanks'
>;

const real = loadFlow(flowsFolder);
export const realFlow: Flow = real.flow;
export const realCharts: Charts = real.charts;

/** A copy of the real charts, changed. */
export function alterCharts(change: (charts: Editable) => void): Charts {
  const copy = structuredClone(realCharts) as Editable;
  change(copy);
  return copy;
}

/** The real main chart with one mending a run and the named procedures alone: a search through it takes little time. */
export function smallCharts(
  change: (charts: Editable) => void,
  procedures: readonly string[] = ['turn-screw', 'change-reed', 'coach-player'],
): Charts {
  return alterCharts((charts) => {
    charts.procedures = charts.procedures.filter(({ procedure }) => procedures.includes(procedure));
    const counters = charts.main.memory.counters;
    counters.tried!.to = 1;
    counters.withoutResult!.to = 1;
    const text = JSON.stringify(charts.main.states).replaceAll(
      '"counter":"tried","atLeast":3',
      '"counter":"tried","atLeast":1',
    );
    charts.main.states = JSON.parse(
      text.replaceAll('"counter":"withoutResult","atLeast":2', '"counter":"withoutResult","atLeast":1'),
    );
    change(charts);
  });
}

/** A state of a chart, to be changed. Tests reach into every kind of state, so its shape is left open. */
// biome-ignore lint/suspicious/noExplicitAny: altered charts are checked by the code under test
export function stateOf(chart: MainFile | ProcedureFile | undefined, name: string): any {
  return chart?.states[name];
}

/** The procedure of an altered set of charts. */
export function procedureOf(charts: Editable, id: string): ProcedureFile {
  return charts.procedures.find(({ procedure }) => procedure === id)!;
}

/** The answer with this id on a page. */
// biome-ignore lint/suspicious/noExplicitAny: as above
export function choiceOf(chart: MainFile | ProcedureFile | undefined, state: string, id: string): any {
  return stateOf(chart, state).choices.find((choice: { id: string }) => choice.id === id);
}

/** Says something that must be taken, and gives the state after it. */
export function say(flow: Flow, state: FlowState, event: FlowEvent | string): FlowState {
  const result = flow.take(state, typeof event === 'string' ? { type: 'choice', choice: event } : event);
  if ('refused' in result) throw new Error(`at ${state.at}: ${result.refused}`);
  return result.state;
}

/** Says one thing after another. */
export function sayAll(flow: Flow, state: FlowState, events: readonly (FlowEvent | string)[]): FlowState {
  return events.reduce((here, event) => say(flow, here, event), state);
}

export const verdict = (
  name: Extract<FlowEvent, { type: 'verdict' }>['verdict'],
  more: Partial<Extract<FlowEvent, { type: 'verdict' }>> = {},
): FlowEvent => ({
  ...more,
  type: 'verdict',
  verdict: name,
});
export const recorded = (...confirms: string[]): FlowEvent => ({ type: 'recorded', confirms });

export { compileFlow };
