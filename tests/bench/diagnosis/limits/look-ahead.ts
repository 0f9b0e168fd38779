/** Looking ahead by rollout: the best few checks are tried, each followed to the end by the policy that looks no further. */
import { expectedClassInformation } from '../../../../src/diagnosis/information.ts';
import { type Choice, costOfPolicy, type SmallProblem } from './exact.ts';

/** Expected information about the class in bits for the cost of the check, best first; a tie goes to the lower position. */
function byInformation(
  { checks, classes }: SmallProblem,
  masses: readonly number[],
  open: readonly number[],
) {
  const total = masses.reduce((sum, mass) => sum + mass, 0);
  const of = { of: classes, count: Math.max(...classes) + 1 };
  const shares = masses.map((mass) => mass / total);
  const rates = new Map(
    open.map((position) => {
      const { chances, cost } = checks[position]!;
      const observation = { codes: [...masses.keys()], rows: chances };
      return [position, expectedClassInformation(shares, observation, of) / cost];
    }),
  );
  const telling = open.filter((position) => rates.get(position)! > 1e-12);
  return telling.toSorted((one, other) => rates.get(other)! - rates.get(one)! || one - other);
}

/** Takes the check with most information for its cost. */
export function mostInformation(problem: SmallProblem): Choice {
  return (masses, open) => byInformation(problem, masses, open)[0] ?? null;
}

/**
 * Takes that one of the best few by information which costs least when the rest is done by information alone (rollout;
 * Bertsekas, Tsitsiklis & Wu 1997, Journal of Heuristics 3:245-262, from memory).
 */
export function lookingAhead(problem: SmallProblem, few: number): Choice {
  const base = mostInformation(problem);
  return (masses, open, path) => {
    let best: number | null = null;
    let least = Number.POSITIVE_INFINITY;
    for (const first of byInformation(problem, masses, open).slice(0, few)) {
      const choose: Choice = (now, left, steps) =>
        steps.length === path.length ? first : base(now, left, steps);
      const cost = costOfPolicy(problem, choose, { masses, open, path });
      if (cost < least - 1e-12) {
        least = cost;
        best = first;
      }
    }
    return best;
  };
}
