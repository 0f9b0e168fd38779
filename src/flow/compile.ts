/** Charts made into one xstate machine. Its semantics are those of SCXML as xstate has them. */
import { type AnyStateMachine, assign, setup } from 'xstate';
import { type Chart, type Charts, listCharts, listMoves, procedureState } from './charts.ts';
import {
  applyEffects,
  type FlowContext,
  holds,
  leaveProcedure,
  type ProcedureTable,
  startMemory,
  takeIn,
} from './context.ts';
import type { Branch, Condition, FlowEvent, Person, ProcedureFile } from './schema.ts';

/** What a run begins with. */
export type FlowOpening = { readonly person: Person; readonly tools: readonly string[] };

/** An event as the machine takes it: its type carries the choice or verdict, `said` the whole of it. */
export type MachineEvent = { readonly type: string; readonly said: FlowEvent };

/** The machine's name for an event: `choice.<id>`, `recorded`, `none`, `verdict.<verdict>`. */
export function toMachineEvent(event: FlowEvent): MachineEvent {
  const tail =
    event.type === 'choice' ? `.${event.choice}` : event.type === 'verdict' ? `.${event.verdict}` : '';
  return { type: `${event.type}${tail}`, said: event };
}

type Transition = { guard: unknown; target: string; actions: unknown[] };

/** Where the exits of the chart that is being compiled lead, by the main chart. */
type Exits = Readonly<Record<string, readonly Branch[]>>;

/**
 * Compiles charts that have passed `checkCharts`. State paths: main states by name, a procedure's states under
 * `<procedure state>.<procedure id>.<state>`. A treat verdict that names no known procedure, no fault, or no direction for a
 * screw is not taken at all.
 */
export function compileCharts(charts: Charts): AnyStateMachine {
  const procedures: ProcedureTable = new Map(charts.procedures.map((chart) => [chart.procedure, chart]));
  const [main, ...inner] = listCharts(charts) as [Chart, ...Chart[]];
  const holder = procedureState(charts.main);
  const holderState = holder === undefined ? undefined : charts.main.states[holder];
  const exits = holderState?.kind === 'procedure' ? holderState.exits : {};

  const states = compileStates(main, {});
  if (holder !== undefined) {
    states[holder] = {
      initial: 'choose',
      states: {
        choose: {
          always: inner.map(({ procedure }) => ({
            guard: { type: 'isChosen', params: procedure!.procedure },
            target: procedure!.procedure,
          })),
        },
        ...Object.fromEntries(
          inner.map((chart) => [
            chart.procedure!.procedure,
            {
              initial: chart.starts,
              entry: { type: 'startChart', params: chart.memory },
              states: compileStates(chart, exits),
            },
          ]),
        ),
      },
    };
  }

  const machine = setup({
    types: { context: {} as FlowContext, events: {} as MachineEvent, input: {} as FlowOpening },
    guards: {
      holds: (
        { context, event },
        { when, isEventless }: { when: readonly Condition[]; isEventless: boolean },
      ) =>
        isEventless
          ? holds(when, context, { procedures })
          : isWhole(event.said, procedures) && holds(when, context, { procedures, event: event.said }),
      isChosen: ({ context }, id: string) => context.procedure === id,
    },
    actions: {
      takeIn: assign(({ context, event }) => takeIn(context, event.said)),
      apply: assign(({ context }, branch: Pick<Branch, 'set' | 'count'>) => applyEffects(context, branch)),
      leave: assign(({ context }, left: { chart: ProcedureFile; exit: string }) =>
        leaveProcedure(context, left.chart, left.exit),
      ),
      startChart: assign(({ context }, memory: Chart['memory']) => {
        const starts = startMemory(memory);
        return {
          flags: { ...context.flags, ...starts.flags },
          counters: { ...context.counters, ...starts.counters },
          words: { ...context.words, ...starts.words },
        };
      }),
    },
  });
  const config = {
    id: 'flow',
    initial: charts.main.starts,
    context: ({ input }: { input: FlowOpening }): FlowContext => ({
      ...input,
      fault: null,
      procedure: null,
      direction: null,
      confirmed: [],
      repairs: [],
      ...startMemory(charts.main.memory),
    }),
    states,
  };
  // The configuration is made from data, so the names in it are beyond what xstate's types can follow.
  return machine.createMachine(config as never) as unknown as AnyStateMachine;
}

/** A verdict that carries all it must; any other event is whole by its schema. */
function isWhole(event: FlowEvent, procedures: ProcedureTable): boolean {
  if (event.type !== 'verdict') return true;
  if (event.verdict === 'confirm') return event.fault !== undefined;
  if (event.verdict !== 'treat') return true;
  const chart = procedures.get(event.procedure ?? '');
  return (
    event.fault !== undefined &&
    chart !== undefined &&
    (chart.turns === undefined || event.direction !== undefined)
  );
}

function compileStates(chart: Chart, exits: Exits): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(chart.states).map(([name, state]) => {
      if (state.kind === 'outcome') return [name, { type: 'final' }];
      const moves = listMoves(chart, name).map(
        ({ event, branches }) => [event, compileBranches(chart, event, branches, exits)] as const,
      );
      if (state.kind === 'route') return [name, { always: moves[0]![1] }];
      // Notes are written down while the page stays; a proof among them is remembered.
      const stays = state.kind === 'notes' ? { recorded: { actions: ['takeIn'] } } : {};
      return [name, { on: { ...stays, ...Object.fromEntries(moves) } }];
    }),
  );
}

function compileBranches(
  chart: Chart,
  event: string,
  branches: readonly Branch[],
  exits: Exits,
): Transition[] {
  return branches.flatMap((branch) => {
    if (branch.exit === undefined) return [transitionOf(event, chart.prefix + branch.to, [branch])];
    // Leaving a procedure: the chart's own effects, the repair written down, then the main chart's branch for this exit.
    const leave = { type: 'leave', params: { chart: chart.procedure, exit: branch.exit } };
    return (exits[branch.exit] ?? []).map((outer) => transitionOf(event, outer.to!, [branch, outer], leave));
  });
}

/** One xstate transition for a branch, or for a branch and the one that carries on from the exit it takes. */
function transitionOf(event: string, path: string, steps: readonly Branch[], between?: unknown): Transition {
  const when = steps.flatMap((step) => step.when ?? []);
  const effects = steps.map((step) => ({ type: 'apply', params: { set: step.set, count: step.count } }));
  return {
    guard: { type: 'holds', params: { when, isEventless: event === '' } },
    target: `#flow.${path}`,
    actions: [
      ...(event === '' ? [] : ['takeIn']),
      effects[0],
      ...(between === undefined ? [] : [between]),
      ...effects.slice(1),
    ],
  };
}
