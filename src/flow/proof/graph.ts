/** Questions about a plain graph of states and transitions. */

/** States in order, with their transitions in order. */
export type Graph = {
  readonly start: string;
  readonly finals: readonly string[];
  readonly edges: Readonly<Record<string, readonly { readonly on: string; readonly to: string }[]>>;
};

/** Everything that can be reached from some states by a relation, those included. */
export function reachFrom<T>(starts: Iterable<T>, next: (state: T) => Iterable<T>): Set<T> {
  const seen = new Set(starts);
  for (const state of seen) for (const follower of next(state)) seen.add(follower);
  return seen;
}

/** The relation turned round: for each state those that lead to it. */
export function reverse<T>(states: Iterable<T>, next: (state: T) => Iterable<T>): Map<T, T[]> {
  const back = new Map<T, T[]>();
  for (const state of states) {
    for (const follower of next(state)) {
      const before = back.get(follower);
      if (before === undefined) back.set(follower, [state]);
      else before.push(state);
    }
  }
  return back;
}

/** What a verifier must report of a flow: Heimdahl and Leveson 1996, van der Aalst 1998. */
export type GraphReport = {
  readonly reachable: readonly string[];
  readonly unreachable: readonly string[];
  /** States from which no final state can be reached. */
  readonly stuck: readonly string[];
  /** States with two transitions for one event. */
  readonly nondeterministic: readonly string[];
  /** Strongly connected components that contain a circle, each sorted. */
  readonly loops: readonly (readonly string[])[];
  /** Number of transitions between reachable states, and of pairs of them that follow each other. */
  readonly transitions: number;
  readonly transitionPairs: number;
};

/** Looks through a graph. */
export function inspectGraph({ start, finals, edges }: Graph): GraphReport {
  const states = Object.keys(edges);
  const next = (state: string) => (edges[state] ?? []).map((edge) => edge.to);
  const reachable = reachFrom([start], next);
  const back = reverse(states, next);
  const finishing = reachFrom(finals, (state) => back.get(state) ?? []);
  const taken = states.filter((state) => reachable.has(state)).flatMap((state) => edges[state]!);
  return {
    reachable: states.filter((state) => reachable.has(state)),
    unreachable: states.filter((state) => !reachable.has(state)),
    stuck: states.filter((state) => !finishing.has(state)),
    nondeterministic: states.filter(
      (state) => new Set(edges[state]!.map((edge) => edge.on)).size < edges[state]!.length,
    ),
    loops: findLoops(states, next),
    transitions: taken.length,
    transitionPairs: taken.reduce((sum, edge) => sum + (edges[edge.to]?.length ?? 0), 0),
  };
}

/** The strongly connected components that contain a circle, by Tarjan 1972, without recursion. */
export function findLoops<T>(states: Iterable<T>, next: (state: T) => Iterable<T>): T[][] {
  const index = new Map<T, number>();
  const low = new Map<T, number>();
  const stack: T[] = [];
  const onStack = new Set<T>();
  const loops: T[][] = [];
  const enter = (state: T) => {
    index.set(state, index.size);
    low.set(state, index.get(state)!);
    stack.push(state);
    onStack.add(state);
    return { state, followers: [...next(state)], at: 0 };
  };
  const leave = (state: T) => {
    if (low.get(state) !== index.get(state)) return;
    const component = stack.splice(stack.lastIndexOf(state));
    for (const member of component) onStack.delete(member);
    if (component.length > 1 || [...next(state)].includes(state)) loops.push(component.sort());
  };
  for (const root of states) {
    if (index.has(root)) continue;
    const work = [enter(root)];
    while (work.length > 0) {
      const frame = work.at(-1)!;
      const follower = frame.followers[frame.at++];
      if (frame.at > frame.followers.length) {
        work.pop();
        leave(frame.state);
        const parent = work.at(-1)?.state;
        if (parent !== undefined) low.set(parent, Math.min(low.get(parent)!, low.get(frame.state)!));
      } else if (!index.has(follower!)) {
        work.push(enter(follower!));
      } else if (onStack.has(follower!)) {
        low.set(frame.state, Math.min(low.get(frame.state)!, index.get(follower!)!));
      }
    }
  }
  return loops;
}
