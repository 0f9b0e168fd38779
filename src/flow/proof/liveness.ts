/**
 * Which of the things remembered can still matter from a state on. What cannot matter is left out when configurations are
 * compared, so that a search over all of them stays small without leaving any behaviour out (live-variable analysis).
 */
import { type Chart, type Charts, listCharts, listMoves, procedureState } from '../charts.ts';
import type { Branch, Condition } from '../schema.ts';

/** A thing remembered: `person`, `fault`, `procedure`, `confirmed`, or `memory:<name>`. */
export type Variable = string;

type Edge = { readonly to: string; readonly writes: ReadonlySet<Variable> };

/** For each state path (routes and inner states of procedures included): what can still be read from there on. */
export function findLiveVariables(charts: Charts): ReadonlyMap<string, ReadonlySet<Variable>> {
  const all = listCharts(charts);
  const holder = procedureState(charts.main);
  const reads = new Map<string, Set<Variable>>();
  const edges = new Map<string, Edge[]>();
  for (const chart of all) {
    for (const name of Object.keys(chart.states)) {
      const path = chart.prefix + name;
      // The proofs look at these: who may be in a procedure, with what proved; and every counter's bounds.
      const inside =
        chart.procedure === null
          ? []
          : ['fault', 'procedure', 'confirmed', 'memory:ownerAllows', 'memory:approved'];
      const counters = [charts.main.memory, chart.memory].flatMap((memory) => Object.keys(memory.counters));
      reads.set(path, new Set([...inside, ...counters.map((counter) => `memory:${counter}`)]));
      edges.set(path, []);
      for (const move of listMoves(chart, name)) addMove(chart, path, move.event, move.branches);
    }
  }
  if (holder !== undefined) {
    reads.set(holder, new Set(['procedure']));
    edges.set(
      holder,
      all.flatMap((chart) =>
        chart.procedure === null ? [] : [{ to: chart.prefix + chart.starts, writes: ownNames(chart) }],
      ),
    );
  }

  function addMove(chart: Chart, path: string, event: string, branches: readonly Branch[]): void {
    for (const branch of branches) {
      for (const condition of branch.when ?? [])
        for (const name of readBy(condition, event)) reads.get(path)!.add(name);
      if (branch.exit === undefined) {
        edges.get(path)!.push({ to: chart.prefix + branch.to, writes: writtenBy(branch, event) });
        continue;
      }
      const outer = charts.main.states[holder ?? ''];
      for (const onwards of (outer?.kind === 'procedure' ? outer.exits[branch.exit] : undefined) ?? []) {
        for (const condition of onwards.when ?? [])
          for (const name of readBy(condition, event)) reads.get(path)!.add(name);
        edges.get(path)!.push({
          to: onwards.to!,
          writes: new Set([...writtenBy(branch, event), ...writtenBy(onwards, event), ...ownNames(chart)]),
        });
      }
    }
  }
  return settle(reads, edges);
}

/**
 * What can bear on the result of one event at one state, and what the event can change: conditions and effects of every
 * branch, and those of the routes and the procedure's start that follow at once. Keyed by state path, then machine event.
 */
export function findInfluences(
  charts: Charts,
): ReadonlyMap<string, ReadonlyMap<string, ReadonlySet<Variable>>> {
  const all = listCharts(charts);
  const holder = procedureState(charts.main);
  const outer = charts.main.states[holder ?? ''];
  const exits = outer?.kind === 'procedure' ? outer.exits : {};
  const onEntry = new Set(['procedure', ...all.slice(1).flatMap((chart) => [...ownNames(chart)])]);

  const ofBranches = (
    chart: Chart,
    event: string,
    branches: readonly Branch[],
    names: Set<Variable>,
  ): Set<Variable> => {
    for (const branch of branches) {
      for (const condition of branch.when ?? []) for (const name of readBy(condition, '')) names.add(name);
      for (const name of [...Object.keys(branch.set ?? {}), ...Object.keys(branch.count ?? {})])
        names.add(`memory:${name}`);
      if (branch.exit !== undefined) {
        for (const name of ['fault', 'confirmed', ...ownNames(chart)]) names.add(name);
        ofBranches(all[0]!, event, exits[branch.exit] ?? [], names);
      } else if (chart.procedure === null && branch.to === holder) {
        for (const name of onEntry) names.add(name);
      } else {
        const next = chart.states[branch.to!];
        if (next?.kind === 'route') ofBranches(chart, event, next.go, names);
      }
    }
    return names;
  };
  return new Map(
    all.flatMap((chart) =>
      Object.keys(chart.states).map((name) => [
        chart.prefix + name,
        new Map(
          listMoves(chart, name).map(({ event, branches }) => [
            event,
            ofBranches(
              chart,
              event,
              branches,
              new Set(event.startsWith('choice.') ? [] : ['fault', 'procedure', 'confirmed']),
            ),
          ]),
        ),
      ]),
    ),
  );
}

/** Adds what is live after each edge until nothing more is added. */
function settle(
  reads: ReadonlyMap<string, Set<Variable>>,
  edges: ReadonlyMap<string, readonly Edge[]>,
): ReadonlyMap<string, Set<Variable>> {
  const live = new Map([...reads].map(([path, names]) => [path, new Set([...names, 'person'])]));
  for (let isGrowing = true; isGrowing; ) {
    isGrowing = false;
    for (const [path, list] of edges) {
      const here = live.get(path)!;
      const before = here.size;
      for (const { to, writes } of list) {
        for (const name of live.get(to) ?? []) if (!writes.has(name)) here.add(name);
      }
      isGrowing ||= here.size > before;
    }
  }
  return live;
}

function ownNames({ memory }: Chart): Set<Variable> {
  return new Set(
    [...Object.keys(memory.flags), ...Object.keys(memory.counters), ...Object.keys(memory.words)].map(
      (name) => `memory:${name}`,
    ),
  );
}

/** A verdict brings its own fault and procedure, so conditions on it do not read those in hand. */
function readBy(condition: Condition, event: string): Variable[] {
  const isVerdict = event.startsWith('verdict.');
  const name = condition.flag ?? condition.word ?? condition.counter;
  if (name !== undefined) return [`memory:${name}`];
  if (condition.person !== undefined) return ['person'];
  if (condition.confirmed !== undefined) return isVerdict ? ['confirmed'] : ['confirmed', 'fault'];
  if (isVerdict) return [];
  return condition.named !== undefined ? ['fault'] : ['procedure'];
}

function writtenBy(branch: Branch, event: string): Set<Variable> {
  const byEvent =
    event === 'verdict.treat'
      ? ['fault', 'procedure']
      : event === 'verdict.bench' || event === 'verdict.confirm'
        ? ['fault']
        : [];
  return new Set([...byEvent, ...Object.keys(branch.set ?? {}).map((name) => `memory:${name}`)]);
}
