/** What the diagnosis would ask and do next, for every answer, as a tree that grows where it is likeliest to be needed. */
import {
  addFinding,
  answerAsFinding,
  type Belief,
  type Check,
  type DiagnosisModel,
  decide,
  type Finding,
  type Situation,
  type Verdict,
} from '../diagnosis/index.ts';

/** Where the questions end: something to be done, the bench, or nothing wrong. */
export type Ending = Extract<Verdict, { kind: 'treat' | 'bench' | 'healthy' }>;

/** `reach`: the share of instruments with this complaint that come here. */
export type EndPoint = { readonly kind: 'end'; readonly reach: number; readonly ending: Ending };
export type AskPoint = {
  readonly kind: 'ask';
  readonly reach: number;
  readonly check: Check;
  readonly isProof: boolean;
  /** In the order of the check's answers; null where an answer was not followed. */
  readonly answers: { readonly id: string; readonly label: string; readonly next: Point | null }[];
};
export type Point = EndPoint | AskPoint;

/** What comes to a point less often is not followed further: it would take a box for one instrument in so many hundred. */
const LEAST_REACH = 0.004;

type Waiting = {
  readonly reach: number;
  readonly belief: Belief;
  readonly findings: readonly Finding[];
  readonly put: (point: Point) => void;
};

export type PolicyStart = {
  readonly situation: Situation;
  readonly findings: readonly Finding[];
  readonly belief: Belief;
};

/**
 * Grows the tree of what `decide` says, the likeliest point first, until there are so many questions or what is left is
 * too unlikely to matter. Answers that were not followed lead to null. It takes some milliseconds a question.
 * @param most questions at most
 */
export function growPolicy(
  model: DiagnosisModel,
  { situation, findings, belief }: PolicyStart,
  most: number,
): Point {
  let root: Point | null = null;
  const waiting: Waiting[] = [{ reach: 1, belief, findings, put: (point) => (root = point) }];
  for (let asked = 0; asked < most && waiting.length > 0; ) {
    const next = waiting.splice(likeliest(waiting), 1)[0]!;
    if (next.reach < LEAST_REACH) break;
    const verdict = decide(model, next.belief, next.findings, situation, []);
    if (verdict.kind !== 'check' && verdict.kind !== 'confirm') {
      next.put({ kind: 'end', reach: next.reach, ending: verdict });
    } else {
      const check = model.check(verdict.check);
      const answers = check.answers.map(
        ({ id, label }): { id: string; label: string; next: Point | null } => ({ id, label, next: null }),
      );
      next.put({
        kind: 'ask',
        reach: next.reach,
        check,
        isProof: verdict.kind === 'confirm',
        answers,
      });
      asked += 1;
      for (const answer of answers) {
        const finding = answerAsFinding(model, check, answer.id);
        const after = addFinding(model, next.belief, finding, situation.person);
        waiting.push({
          // The chance of the answer, by what it does to the probability of all that has been found.
          reach: next.reach * Math.exp(after.logEvidence - next.belief.logEvidence),
          belief: after,
          findings: [...next.findings, finding],
          put: (point) => (answer.next = point),
        });
      }
    }
  }
  if (root === null) throw new RangeError('a policy needs room for at least one question');
  return root;
}

function likeliest(waiting: readonly Waiting[]): number {
  let best = 0;
  for (let index = 1; index < waiting.length; index += 1) {
    if (waiting[index]!.reach > waiting[best]!.reach) best = index;
  }
  return best;
}
