/** A flow: one edition of the charts, ready to be walked. Pure; the same state and event always give the same result. */
import { type AnyStateMachine, initialTransition, type StateValue, transition } from 'xstate';
import { checkCharts } from './chart-checks.ts';
import { type Charts, FlowError, indexById, listCharts } from './charts.ts';
import { compileCharts, type FlowOpening, toMachineEvent } from './compile.ts';
import type { FlowContext } from './context.ts';
import type { FlowEvent, Person, State } from './schema.ts';
import { describeStep, type FlowState, type FlowStep, type Library, type Place } from './step.ts';

/** What the diagnosis must know of the situation. */
export type FlowSituation = {
  readonly person: Person;
  readonly tools: readonly string[];
  readonly canPlay: boolean;
  readonly ownerAllows: boolean;
  /** The notes have still to be played through. */
  readonly isPlayTestDue: boolean;
};

export interface Flow {
  readonly charts: Charts;
  readonly machine: AnyStateMachine;
  /** Every state that a run can stand in, by its path. */
  readonly states: ReadonlyMap<string, State>;
  begin(opening: FlowOpening): FlowState;
  /**
   * What to show. `has` says for which placeholders there is a text (all, if it is left out).
   * Throws RangeError for a state that this flow has not.
   */
  step(state: FlowState, has?: (placeholder: string) => boolean): FlowStep;
  /** The state after an event, or why the event is not taken here. Throws RangeError as `step`. */
  take(state: FlowState, event: FlowEvent): { state: FlowState } | { refused: string };
  situation(state: FlowState): FlowSituation;
}

/** The flow of these charts. Throws FlowError, listing every problem, when they do not fit together. */
export function compileFlow(charts: Charts): Flow {
  const problems = checkCharts(charts);
  if (problems.length > 0) throw new FlowError(problems);
  const machine = compileCharts(charts);
  const places = new Map<string, Place>();
  for (const chart of listCharts(charts)) {
    for (const [name, state] of Object.entries(chart.states)) {
      if (state.kind !== 'procedure' && state.kind !== 'route')
        places.set(chart.prefix + name, { chart, state });
    }
  }
  const library: Library = {
    procedures: new Map(charts.procedures.map((chart) => [chart.procedure, chart])),
    outcomes: indexById(charts.outcomes.outcomes),
    cautions: indexById(charts.cautions.cautions),
  };
  const place = (at: string): Place => {
    const found = places.get(at);
    if (found === undefined) throw new RangeError(`this flow has no state "${at}"`);
    return found;
  };

  const step: Flow['step'] = (state, has) =>
    describeStep(state, place(state.at), library, has ?? (() => true));
  return {
    charts,
    machine,
    states: new Map([...places].map(([path, { state }]) => [path, state])),
    begin: (opening) => toFlowState(initialTransition(machine, opening)[0]),
    step,
    take: (state, event) => {
      if (place(state.at).state.kind === 'outcome') return { refused: 'This run has ended.' };
      const snapshot = machine.resolveState({ value: toValue(state.at), context: state.context });
      const [next] = transition(machine, snapshot, toMachineEvent(event));
      // xstate gives back the very same snapshot when no transition is enabled.
      return next === snapshot
        ? { refused: explainRefusal(step(state), event) }
        : { state: toFlowState(next) };
    },
    situation: ({ context }) => ({
      person: context.person,
      tools: context.tools,
      canPlay: context.flags.canPlay ?? true,
      ownerAllows: context.flags.ownerAllows ?? false,
      isPlayTestDue: context.flags.playTestDue ?? false,
    }),
  };
}

function explainRefusal(step: FlowStep, event: FlowEvent): string {
  if (step.kind !== 'weigh') {
    const ids = step.choices.map((choice) => choice.id).join(', ');
    const more = step.kind === 'check' ? ', and those of the check' : '';
    return `That is not an answer to this step. The answers here are: ${ids}${more}.`;
  }
  if (event.type !== 'verdict') return `At ${step.id} the verdict of the diagnosis is needed.`;
  return (
    `The verdict "${event.verdict}" cannot be taken at ${step.id} as it stands: a treatment must name a fault that has ` +
    'been proved and a procedure that is known, a screw its direction, and a proof its fault.'
  );
}

function toFlowState(snapshot: { value: StateValue; context: unknown }): FlowState {
  return { at: toPath(snapshot.value), context: snapshot.context as FlowContext };
}

/** `a.b.c` as xstate's nested state value. */
function toValue(path: string): StateValue {
  const names = path.split('.');
  return names.slice(0, -1).reduceRight<StateValue>((inner, name) => ({ [name]: inner }), names.at(-1)!);
}

function toPath(value: StateValue): string {
  if (typeof value === 'string') return value;
  const [name, inner] = Object.entries(value)[0]!;
  return `${name}.${toPath(inner!)}`;
}
