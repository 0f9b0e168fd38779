/** Walks a flow through every configuration (state and what is remembered) that any answers can bring about. */

import { listCharts } from '../charts.ts';
import type { FlowContext } from '../context.ts';
import type { Flow } from '../flow.ts';
import { Person, type State } from '../schema.ts';
import {
  type Candidate,
  choiceCandidates,
  noNotes,
  recordCandidates,
  verdictCandidates,
} from './alphabet.ts';
import { type Row, type RowShape, shapeRows } from './configuration.ts';

/** `exit`: the way out of a procedure that was used, with what had been turned. */
export type Move = {
  readonly event: string;
  readonly to: number;
  readonly exit: { readonly name: string; readonly turned: number } | null;
};

/** One configuration, how it was first reached, and where each event that it takes leads. */
export type Configuration = {
  readonly index: number;
  readonly at: string;
  readonly row: Row;
  readonly from: { readonly index: number; readonly event: string } | null;
  readonly moves: Move[];
};

export type Exploration = {
  readonly shape: RowShape;
  readonly configurations: readonly Configuration[];
  /** What each state was seen to offer or to await, by the machine's names of events. */
  readonly offered: ReadonlyMap<string, ReadonlySet<string>>;
  /** The place of a configuration in the list, or undefined for one that cannot be reached. */
  find(at: string, context: FlowContext): number | undefined;
  /** Answers that a page offers, or verdicts, that no branch takes. */
  readonly unhandled: readonly { readonly index: number; readonly event: string }[];
  /** Configurations whose counters have left their bounds; not walked further. */
  readonly broken: readonly { readonly index: number; readonly why: string }[];
};

/** The search stops with an error beyond this; it says that some counter has no bound. */
const MOST_CONFIGURATIONS = 400_000;

/** The result of an event for all configurations that agree in what bears on it. */
type Result = { readonly to: string; readonly values: Row; readonly exit: Move['exit'] } | null;

/**
 * Breadth first, so that the way back from any configuration is a shortest one. Every step is the machine's own; it is
 * asked once for all configurations that agree in whatever can bear on the step. xstate's own
 * `getAdjacencyMap` finds the same configurations (a test compares them), but asks for each, and takes three times as long.
 */
export function exploreFlow(flow: Flow): Exploration {
  const shape = shapeRows(flow.charts);
  const bounds = boundsOf(flow, shape);
  const take = memoryOfSteps(flow, shape);
  const candidates = candidatesOf(flow, shape);
  const byKey = new Map<string, number>();
  const configurations: Configuration[] = [];
  const unhandled: { index: number; event: string }[] = [];
  const broken: { index: number; why: string }[] = [];
  const offered = new Map<string, Set<string>>();
  const keyOf = (at: string, row: Row) => `${at},${row.join(',')}`;

  const visit = (at: string, reached: Row, from: Configuration['from']): number => {
    const row = shape.simplify(at, reached);
    const key = keyOf(at, row);
    const known = byKey.get(key);
    if (known !== undefined) return known;
    const index = configurations.length;
    if (index >= MOST_CONFIGURATIONS) throw new RangeError('these charts have too many configurations');
    byKey.set(key, index);
    configurations.push({ index, at, row, from, moves: [] });
    return index;
  };

  for (const person of Person.options) {
    const { at, context } = flow.begin({ person, tools: [] });
    visit(at, shape.toRow(context), null);
  }
  for (const { index, at, row, moves } of configurations) {
    const why = bounds(at, row);
    if (why !== undefined) {
      broken.push({ index, why });
      continue;
    }
    const types = offered.get(at) ?? new Set();
    offered.set(at, types);
    for (const candidate of candidates(at, row)) {
      types.add(candidate.type);
      const result = take(at, row, candidate);
      if (result === null) {
        if (candidate.mustTake) unhandled.push({ index, event: candidate.name });
        continue;
      }
      const to = visit(result.to, result.values, { index, event: candidate.name });
      moves.push({ event: candidate.name, to, exit: result.exit });
    }
  }
  const find = (at: string, context: FlowContext) =>
    byKey.get(keyOf(at, shape.simplify(at, shape.toRow(context))));
  return { shape, configurations, offered, find, unhandled, broken };
}

/** The events worth trying at a state: what the page offers, records of checks, no note to play, verdicts. */
function candidatesOf(flow: Flow, shape: RowShape): (at: string, row: Row) => readonly Candidate[] {
  const recorded = recordCandidates();
  const verdicts = verdictCandidates(flow.charts);
  const known = new Map<string, readonly Candidate[]>();
  const conditional = new Set(
    [...flow.states].flatMap(([at, state]) =>
      'choices' in state && state.choices.some((choice) => choice.when !== undefined) ? [at] : [],
    ),
  );
  return (at, row) => {
    const kept = known.get(at);
    if (kept !== undefined) return kept;
    const step = flow.step({ at, context: shape.toContext(row) });
    const choices = choiceCandidates(step.choices.map((choice) => choice.id));
    const list =
      step.kind === 'weigh'
        ? verdicts
        : step.kind === 'check' || step.kind === 'notes'
          ? [...choices, ...recorded, ...(knowsNoNotes(flow.states.get(at)) ? [noNotes] : [])]
          : choices;
    if (!conditional.has(at)) known.set(at, list);
    return list;
  };
}

function knowsNoNotes(state: State | undefined): boolean {
  return state?.kind === 'notes' && state.none !== undefined;
}

/** Takes steps by the machine, each kind of step once. */
function memoryOfSteps(flow: Flow, shape: RowShape): (at: string, row: Row, candidate: Candidate) => Result {
  const results = new Map<string, Result>();
  return (at, row, { type, name, said }) => {
    const places = shape.influences(at, type);
    let key = `${at},${name}`;
    for (const place of places) key += `,${row[place]}`;
    let result = results.get(key);
    if (result === undefined) {
      const answer = flow.take({ at, context: shape.toContext(row) }, said);
      if ('refused' in answer) {
        result = null;
      } else {
        const repair = answer.state.context.repairs.at(-1);
        const exit = repair === undefined ? null : { name: repair.exit, turned: repair.turned };
        const after = shape.toRow(answer.state.context);
        result = { to: answer.state.at, values: places.map((place) => after[place]), exit };
      }
      results.set(key, result);
    }
    if (result === null) return null;
    const values = [...row];
    for (const [index, place] of places.entries()) values[place] = result.values[index];
    return { ...result, values };
  };
}

/** Says which counter has left its bounds, if one has. */
function boundsOf(flow: Flow, { variables }: RowShape): (at: string, row: Row) => string | undefined {
  const bounds = listCharts(flow.charts).flatMap(({ prefix, memory }) =>
    Object.entries(memory.counters).map(([name, { from, to }]) => ({
      prefix,
      name,
      from,
      to,
      place: variables.indexOf(`memory:${name}`),
    })),
  );
  return (at, row) => {
    for (const { prefix, name, from, to, place } of bounds) {
      const count = row[place] as number | undefined;
      if (count !== undefined && at.startsWith(prefix) && (count < from || count > to)) {
        return `the counter "${name}" stands at ${count}, outside ${from} to ${to}`;
      }
    }
    return undefined;
  };
}
