/** What a run remembers as a short row of values, so that hundreds of thousands of them can be told apart quickly. */

import { type Charts, listCharts } from '../charts.ts';
import { type FlowContext, startMemory } from '../context.ts';
import { abstractFaults } from './alphabet.ts';
import { findInfluences, findLiveVariables, type Variable } from './liveness.ts';

/** One value of each variable; undefined where a procedure's own memory is not in use. */
export type Row = readonly unknown[];

export type RowShape = {
  readonly variables: readonly Variable[];
  /** The row of a context. `repairs`, `tools` and the direction are left out: no condition can ask for them. */
  toRow(context: FlowContext): Row;
  toContext(row: Row): FlowContext;
  /**
   * The row with everything blank that can no longer matter at this state. No condition knows faults by name, so the fault
   * in hand is always called fault-a here.
   */
  simplify(at: string, row: Row): Row;
  /** The values that can bear on this event at this state, and that it can change, by their places in the row. */
  influences(at: string, event: string): readonly number[];
};

/** Exchanges the two abstract faults where fault-b is in hand, or is the only one that has been proved. */
function renameFaults(row: unknown[]): Row {
  const [a, b] = abstractFaults;
  if (row[1] !== b && (row[1] !== null || row[3] !== b)) return row;
  const swap = (fault: unknown) => (fault === a ? b : fault === b ? a : fault);
  row[1] = swap(row[1]);
  row[3] = String(row[3]).split(' ').map(swap).sort().join(' ');
  return row;
}

/** How the rows of these charts look. */
export function shapeRows(charts: Charts): RowShape {
  const all = listCharts(charts);
  const namesOf = (pick: 'flags' | 'counters' | 'words') =>
    [...new Set(all.flatMap((chart) => Object.keys(chart.memory[pick])))].sort();
  const flags = namesOf('flags');
  const counters = namesOf('counters');
  const words = namesOf('words');
  const variables = [
    'person',
    'fault',
    'procedure',
    'confirmed',
    ...[...flags, ...counters, ...words].map((name) => `memory:${name}`),
  ];
  const place = new Map(variables.map((name, index) => [name, index]));
  const toRow = (context: FlowContext): Row => [
    context.person,
    context.fault,
    context.procedure,
    context.confirmed.join(' '),
    ...flags.map((name) => context.flags[name]),
    ...counters.map((name) => context.counters[name]),
    ...words.map((name) => context.words[name]),
  ];
  const pick = <T>(names: readonly string[], row: Row, from: number): Record<string, T> =>
    Object.fromEntries(
      names.map((name, index) => [name, row[from + index]]).filter(([, value]) => value !== undefined),
    ) as Record<string, T>;

  const start = startMemory(charts.main.memory);
  const blank = toRow({
    person: 'director',
    tools: [],
    fault: null,
    procedure: null,
    direction: null,
    confirmed: [],
    repairs: [],
    ...start,
  });
  const dead = new Map(
    [...findLiveVariables(charts)].map(([at, live]) => [
      at,
      variables.flatMap((name, index) => (live.has(name) ? [] : [index])),
    ]),
  );
  const influences = findInfluences(charts);
  const places = new Map<string, readonly number[]>();

  return {
    variables,
    toRow,
    toContext: (row) => ({
      person: row[0] as FlowContext['person'],
      tools: [],
      fault: row[1] as string | null,
      procedure: row[2] as string | null,
      direction: null,
      confirmed: row[3] === '' ? [] : String(row[3]).split(' '),
      flags: pick<boolean>(flags, row, 4),
      counters: pick<number>(counters, row, 4 + flags.length),
      words: pick<string>(words, row, 4 + flags.length + counters.length),
      repairs: [],
    }),
    simplify: (at, row) => {
      const simple = [...row];
      for (const index of dead.get(at) ?? []) simple[index] = blank[index];
      return renameFaults(simple);
    },
    influences: (at, event) => {
      const key = `${at} ${event}`;
      let list = places.get(key);
      if (list === undefined) {
        // The person is asked for by conditions about procedures, too.
        const names = new Set([
          'person',
          ...(influences.get(at)?.get(event) ?? (event === 'recorded' ? ['confirmed'] : [])),
        ]);
        list = [...names].map((name) => place.get(name)!);
        places.set(key, list);
      }
      return list;
    },
  };
}
