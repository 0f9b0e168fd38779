/** Proves the properties of a flow over everything that can be reached, or shows a way that breaks one. */

import { type Charts, FlowError, listCharts, listMoves } from '../charts.ts';
import { compileFlow, type Flow } from '../flow.ts';
import { proveAdjusting } from './adjusting-properties.ts';
import { proveDeclining } from './declining-properties.ts';
import { exploreFlow } from './explore.ts';
import { type Graph, inspectGraph } from './graph.ts';
import { type Evidence, type Property, property } from './property.ts';
import { longestProcedure, proveReach } from './reach-properties.ts';
import { proveSafety } from './safety-properties.ts';

/** What the proofs found. `size` is null where the charts do not fit together, so that nothing could be walked. */
export type ProofReport = {
  readonly holds: boolean;
  readonly properties: readonly Property[];
  readonly size: {
    readonly states: number;
    readonly branches: number;
    /** Between states, by what is said, and pairs of them that follow each other (what 0-switch and 1-switch tests would cover). */
    readonly transitions: number;
    readonly transitionPairs: number;
    readonly configurations: number;
    readonly moves: number;
    readonly longestProcedure: number;
  } | null;
};

/**
 * Proves a flow, or charts that are yet to be compiled. Every step in the search is taken by the compiled machine itself.
 * A property that fails carries a shortest way to where it fails.
 */
export function proveFlow(subject: Flow | Charts): ProofReport {
  try {
    return proveCompiled('machine' in subject ? subject : compileFlow(subject));
  } catch (error) {
    if (!(error instanceof FlowError)) throw error;
    const failures = error.problems.map(({ file, state, message }) => ({
      message: `${file}${state === null ? '' : `, state ${state}`}: ${message}`,
      path: [],
    }));
    return { holds: false, properties: [{ ...fits, failures }], size: null };
  }
}

const fits = property('fits-together', 'every name used is there, and no routes go in a circle', []);

function proveCompiled(flow: Flow): ProofReport {
  const exploration = exploreFlow(flow);
  const evidence = { flow, exploration };
  const properties = [
    fits,
    ...proveReach(evidence),
    ...proveSafety(evidence),
    ...proveAdjusting(evidence),
    ...proveDeclining(evidence),
  ];
  const branches = listCharts(flow.charts).flatMap((chart) =>
    Object.keys(chart.states).flatMap((name) => listMoves(chart, name).flatMap((move) => move.branches)),
  );
  const graph = inspectGraph(stateGraph(evidence));
  return {
    holds: properties.every(({ failures }) => failures.length === 0),
    properties,
    size: {
      states: flow.states.size,
      branches: branches.length,
      transitions: graph.transitions,
      transitionPairs: graph.transitionPairs,
      configurations: exploration.configurations.length,
      moves: exploration.configurations.reduce((sum, { moves }) => sum + moves.length, 0),
      longestProcedure: longestProcedure(evidence),
    },
  };
}

/** The states as a plain graph: every transition that some configuration takes, once. */
function stateGraph({ flow, exploration: { configurations } }: Evidence): Graph {
  const edges = new Map(
    [...flow.states.keys()].map((at) => [at, new Map<string, { on: string; to: string }>()]),
  );
  for (const { at, moves } of configurations) {
    for (const { event, to } of moves) {
      const edge = { on: event, to: configurations[to]!.at };
      edges.get(at)!.set(`${edge.on} ${edge.to}`, edge);
    }
  }
  return {
    start: configurations[0]!.at,
    finals: [...flow.states].filter(([, state]) => state.kind === 'outcome').map(([at]) => at),
    edges: Object.fromEntries([...edges].map(([at, list]) => [at, [...list.values()]])),
  };
}
