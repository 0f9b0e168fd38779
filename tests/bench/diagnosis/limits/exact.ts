/** The best that any policy can do on a small problem, by dynamic programming. */

/** A check on a small problem: `chances[hypothesis][answer]`, and what it costs. */
export type SmallCheck = { readonly chances: readonly (readonly number[])[]; readonly cost: number };

/** Hypotheses with their prior and the class of what to do about each; checks, each to be asked at most once. */
export type SmallProblem = {
  readonly prior: readonly number[];
  readonly classes: readonly number[];
  readonly checks: readonly SmallCheck[];
  /** What it costs to do the wrong thing. */
  readonly wrongCall: number;
};

/**
 * Chooses what to do in a state.
 * @param masses of the hypotheses, summing to the chance of the state. @param open positions of the checks not yet asked.
 * @returns the position of the next check, or null to act now.
 */
export type Choice = (
  masses: readonly number[],
  open: readonly number[],
  path: readonly Step[],
) => number | null;
export type Step = { readonly check: number; readonly answer: number };

export type Value = { readonly cost: number; readonly first: number | null };

/**
 * The least expected cost, checks and wrong calls together, and the first check of such a policy (null: act at once).
 * Recursion over the histories of answers: V = min(loss of acting now, min over checks of [cost + sum V after answer]),
 * in which the masses carry the chance of the state (Bellman 1957). Takes some 3^m steps for m yes-or-no checks.
 */
export function exactOptimum(problem: SmallProblem): Value {
  const memory = new Map<string, Value>();
  const search = (masses: readonly number[], open: readonly number[], key: string): Value => {
    const known = memory.get(key);
    if (known !== undefined) return known;
    let best: Value = { cost: lossNow(problem, masses), first: null };
    const total = sumOf(masses);
    for (const position of open) {
      const check = problem.checks[position]!;
      const now = check.cost * total;
      if (now >= best.cost) continue;
      const rest = open.filter((other) => other !== position);
      let cost = now;
      for (let answer = 0; answer < check.chances[0]!.length && cost < best.cost; answer += 1)
        cost += search(after(masses, check, answer), rest, extend(key, position, answer)).cost;
      if (cost < best.cost - 1e-12) best = { cost, first: position };
    }
    memory.set(key, best);
    return best;
  };
  return search(problem.prior, [...problem.checks.keys()], '.'.repeat(problem.checks.length));
}

/** Where a policy stands: the masses that are left, the checks not yet asked, and what was answered. */
export type State = {
  readonly masses: readonly number[];
  readonly open: readonly number[];
  readonly path: readonly Step[];
};

/** What a policy costs on a problem from where it stands, with the best moments for stopping: acting now is taken where it is cheaper. */
export function costOfPolicy(
  problem: SmallProblem,
  choose: Choice,
  start: State = { masses: problem.prior, open: [...problem.checks.keys()], path: [] },
): number {
  const walk = (masses: readonly number[], open: readonly number[], path: readonly Step[]): number => {
    const now = lossNow(problem, masses);
    const total = sumOf(masses);
    const position = total < NEGLIGIBLE ? null : choose(masses, open, path);
    if (position === null || problem.checks[position]!.cost * total >= now) return now;
    const check = problem.checks[position]!;
    const rest = open.filter((other) => other !== position);
    let cost = check.cost * total;
    for (let answer = 0; answer < check.chances[0]!.length; answer += 1)
      cost += walk(after(masses, check, answer), rest, [...path, { check: position, answer }]);
    return Math.min(now, cost);
  };
  return walk(start.masses, start.open, start.path);
}

/** States rarer than this are not followed by a policy; they act at once. */
const NEGLIGIBLE = 1e-9;

/**
 * The least expected cost of finding the class without error when answers never err and each class ends the search.
 * V(S) = min over checks that split S of [cost x P(S) + V(yes) + V(no)], over subsets of hypotheses.
 * @param answers `answers[hypothesis][check]`, 0 or 1. @throws RangeError when two classes answer alike to everything.
 */
export function exactSearch(
  prior: readonly number[],
  answers: readonly (readonly number[])[],
  costs: readonly number[],
  classes: readonly number[] = prior.map((_, index) => index),
): Value {
  const memory = new Map<number, Value>();
  const search = (set: number): Value => {
    const known = memory.get(set);
    if (known !== undefined) return known;
    const members = prior.flatMap((_, index) => ((set >> index) & 1 ? [index] : []));
    let best: Value = { cost: Number.POSITIVE_INFINITY, first: null };
    if (new Set(members.map((index) => classes[index])).size <= 1) best = { cost: 0, first: null };
    else {
      const weight = sumOf(members.map((index) => prior[index]!));
      for (let check = 0; check < costs.length; check += 1) {
        const yes = members.reduce(
          (part, index) => (answers[index]![check] === 1 ? part | (1 << index) : part),
          0,
        );
        if (yes === 0 || yes === set) continue;
        const cost = costs[check]! * weight + search(yes).cost + search(set ^ yes).cost;
        if (cost < best.cost - 1e-12) best = { cost, first: check };
      }
    }
    memory.set(set, best);
    return best;
  };
  const value = search(2 ** prior.length - 1);
  if (value.cost === Number.POSITIVE_INFINITY)
    throw new RangeError('two classes answer alike to every check');
  return value;
}

const sumOf = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0);

function after(masses: readonly number[], { chances }: SmallCheck, answer: number): number[] {
  return masses.map((mass, hypothesis) => mass * chances[hypothesis]![answer]!);
}

function extend(key: string, position: number, answer: number): string {
  return `${key.slice(0, position)}${answer}${key.slice(position + 1)}`;
}

function lossNow({ classes, wrongCall }: SmallProblem, masses: readonly number[]): number {
  const byClass = new Map<number, number>();
  masses.forEach((mass, index) => {
    byClass.set(classes[index]!, (byClass.get(classes[index]!) ?? 0) + mass);
  });
  return wrongCall * (sumOf(masses) - Math.max(...byClass.values()));
}
