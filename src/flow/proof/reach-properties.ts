/** Proofs that a run can always go on and always end. */
import type { AnyStateNode } from 'xstate';
import type { Configuration } from './explore.ts';
import { findLoops, reachFrom, reverse } from './graph.ts';
import { type Evidence, everywhere, type Failure, type Property, pathTo, property } from './property.ts';

/** States of procedures lie under the main chart's procedure state. */
const isInProcedure = (at: string) => at.includes('.');

/** Properties about reaching states and outcomes. */
export function proveReach({ flow, exploration }: Evidence): Property[] {
  const { configurations, broken, unhandled } = exploration;
  const visited = new Set(configurations.map(({ at }) => at));
  const next = (index: number) => configurations[index]!.moves.map((move) => move.to);
  const indices = configurations.map(({ index }) => index);
  const isOutcome = (at: string) => flow.states.get(at)?.kind === 'outcome';
  const back = reverse(indices, next);
  const ending = reachFrom(
    configurations.filter(({ at }) => isOutcome(at)).map(({ index }) => index),
    (index) => back.get(index) ?? [],
  );
  const stands = (index: number, message: string): Failure => ({ message, path: pathTo(exploration, index) });
  return [
    property(
      'every-state-reached',
      'every state can be reached',
      [...flow.states.keys()]
        .filter((at) => !visited.has(at))
        .map((at) => ({ message: `no answers lead to ${at}`, path: [] })),
    ),
    property(
      'outcome-reachable',
      'an outcome can be reached from everywhere',
      everywhere(exploration, ({ index }) =>
        ending.has(index) ? undefined : 'from here no outcome can be reached',
      ),
    ),
    property(
      'answers-handled',
      'every answer offered, every proof and every verdict is taken',
      unhandled.map(({ index, event }) =>
        stands(index, `"${event}" is offered here, but no branch takes it`),
      ),
    ),
    property('answers-offered', 'nothing is taken that is not offered', listUnoffered({ flow, exploration })),
    property(
      'counters-bounded',
      'every counter stays within its bounds',
      broken.map(({ index, why }) => stands(index, why)),
    ),
    property(
      'pages-wind-on',
      'every circle of pages passes the diagnosis, or counts',
      listIdleLoops({ flow, exploration }),
    ),
    property(
      'procedures-end',
      'every procedure comes to an end, whatever is answered',
      listEndless(configurations, stands),
    ),
  ];
}

/** Events that the machine takes at a state, or at a state around it, although no page there offers them. */
function* listUnoffered({ flow, exploration }: Evidence): Generator<Failure> {
  for (const node of nodesOf(flow.machine.root)) {
    const at = node.path.join('.');
    // A state that was never reached is told of already.
    if (flow.states.has(at) && !exploration.offered.has(at)) continue;
    for (const event of node.ownEvents.filter(
      (name) => name !== '' && !exploration.offered.get(at)?.has(name),
    )) {
      yield {
        message: `${at || 'the chart as a whole'} takes "${event}", which no page there offers`,
        path: [],
      };
    }
  }
}

function nodesOf(node: AnyStateNode): AnyStateNode[] {
  return [node, ...Object.values(node.states).flatMap(nodesOf)];
}

/** Circles of pages in the main chart without a weigh state: one could go round for ever without learning anything. */
function* listIdleLoops({ flow, exploration }: Evidence): Generator<Failure> {
  const followers = new Map<string, Set<string>>();
  for (const { at, moves } of exploration.configurations) {
    const state = flow.states.get(at);
    if (state?.kind === 'weigh' || isInProcedure(at)) continue;
    const list = followers.get(at) ?? new Set<string>();
    followers.set(at, list);
    for (const { to, event } of moves) {
      const target = exploration.configurations[to]!.at;
      // Notes may be written down on a page as often as one likes.
      const isWriting = target === at && event.startsWith('recorded');
      if (!isWriting) list.add(target);
    }
  }
  for (const loop of findLoops(followers.keys(), (at) =>
    [...(followers.get(at) ?? [])].filter((name) => followers.has(name)),
  )) {
    yield { message: `the pages ${loop.join(', ')} lead in a circle`, path: [] };
  }
}

/** Configurations of procedures that lie on a circle. */
function* listEndless(
  configurations: readonly Configuration[],
  stands: (index: number, message: string) => Failure,
): Generator<Failure> {
  const inside = configurations.filter(({ at }) => isInProcedure(at)).map(({ index }) => index);
  const isInside = (index: number) => isInProcedure(configurations[index]!.at);
  for (const loop of findLoops(inside, (index) =>
    configurations[index]!.moves.map((move) => move.to).filter(isInside),
  )) {
    const first = Math.min(...loop);
    const names = [...new Set(loop.map((index) => configurations[index]!.at))].sort();
    yield stands(
      first,
      `${names.join(', ')} can go round for ever; count each round and give the counter a limit`,
    );
  }
}

/** The longest way through any procedure, in pages. */
export function longestProcedure({ exploration: { configurations } }: Evidence): number {
  const length = new Map<number, number>();
  // Deepest first without recursion: a configuration is settled when all its followers in the procedure are.
  const stack = configurations.filter(({ at }) => isInProcedure(at)).map(({ index }) => index);
  const open = new Set<number>();
  while (stack.length > 0) {
    const index = stack.at(-1)!;
    const inner = configurations[index]!.moves.map((move) => move.to).filter((to) =>
      isInProcedure(configurations[to]!.at),
    );
    const waiting = length.has(index) || open.has(index) ? [] : inner.filter((to) => !length.has(to));
    open.add(index);
    if (waiting.length > 0) {
      stack.push(...waiting);
      continue;
    }
    stack.pop();
    length.set(index, 1 + Math.max(0, ...inner.map((to) => length.get(to) ?? 0)));
  }
  return Math.max(0, ...length.values());
}
