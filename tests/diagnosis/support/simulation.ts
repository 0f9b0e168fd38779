import {
  addFinding,
  type Belief,
  believe,
  decide,
  type Finding,
  playCheckId,
  type Situation,
  type TreatedFault,
  type Verdict,
} from '../../../src/diagnosis/index.ts';
import { predict } from '../../../src/diagnosis/prediction.ts';
import { noteName, type Severity } from '../../../src/mechanism/index.ts';
import { alto, model } from './alto.ts';

const COARSE = ['speaks', 'unsteady', 'silent', 'wrong', 'wrong', 'wrong'] as const;
const { hypotheses } = model;

/** The number of the hypothesis "this fault alone, in this severity" (or the only severity that it has). */
export function hypothesisOf(fault: string, severity: Severity = 'moderate'): number {
  const singles = [...hypotheses.having[hypotheses.faultNumber.get(fault)!]!].filter(
    (one) => one < hypotheses.firstPair,
  );
  return singles.find((one) => hypotheses.placed[one]![0]!.severity === severity) ?? singles[0]!;
}

/** The number of the hypothesis that these two faults are there; -1 when the pair is too rare to be followed. */
export function pairOf(one: string, other: string): number {
  const numbers = [one, other].map((fault) => hypotheses.faultNumber.get(fault)!).sort((a, b) => a - b);
  return hypotheses.first.findIndex(
    (first, at) => first === numbers[0] && hypotheses.second[at] === numbers[1],
  );
}

/** Picks an answer of a check under a hypothesis, by its chances; notes that speak another note name it. */
export function answer(hypothesis: number, check: string, pick: (chances: Float64Array) => number): Finding {
  const position = model.positionOf(check);
  const predictions = model.predictions(position);
  const code = predict(model.predictor, predictions, hypothesis);
  const picked = pick(model.rows(position, 'director')[code]!);
  const { plan } = predictions.planned;
  if (plan.by !== 'note') return { check, saw: model.checks[position]!.answers[picked]!.id };
  const sounded = predictions.effects[code - 1]?.sounded ?? null;
  const answered = COARSE[picked]!;
  return {
    note: plan.fingering.note,
    fingering: plan.fingering.id,
    answered,
    ...(answered === 'wrong' && sounded !== null ? { sounded: noteName(sounded) } : {}),
  };
}

/** Somebody who never errs: the likeliest answer. */
export const exactly = (chances: Float64Array) => chances.indexOf(Math.max(...chances));

/** Somebody who errs as often as people.yaml says. @param random gives numbers from 0 to 1. */
export const erring = (random: () => number) => (chances: Float64Array) => {
  let left = random() * chances.reduce((sum, chance) => sum + chance, 0);
  const at = chances.findIndex((chance) => {
    left -= chance;
    return left < 0;
  });
  return at === -1 ? chances.length - 1 : at;
};

/** Repeatable random numbers from 0 to 1 (a linear congruential generator; constants of Numerical Recipes). */
export function randomFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1664525 + 1013904223) % 2 ** 32;
    return state / 2 ** 32;
  };
}

export const playTestIds = alto.playTest.map(({ id }) => id);

/** The play test, answered exactly. */
export const playedExactly = (hypothesis: number, fingerings: readonly string[] = playTestIds) =>
  fingerings.map((id) => answer(hypothesis, playCheckId(id), exactly));

export type Session = {
  readonly verdict: Verdict;
  readonly belief: Belief;
  readonly findings: readonly Finding[];
  readonly asked: readonly Verdict[];
};

/** Asks and answers until something is decided. @throws Error when a check comes twice or it takes more than 60 checks. */
export function runToVerdict(
  hypothesis: number,
  situation: Situation,
  start: readonly Finding[],
  {
    pick = exactly,
    treated = [],
  }: { pick?: (chances: Float64Array) => number; treated?: readonly TreatedFault[] } = {},
): Session {
  const findings = [...start];
  const asked: Verdict[] = [];
  let belief = believe(model, findings, situation.person, treated);
  for (;;) {
    const verdict = decide(model, belief, findings, situation, treated);
    if (verdict.kind !== 'check' && verdict.kind !== 'confirm') return { verdict, belief, findings, asked };
    if (asked.length >= 60) throw new Error('no decision after 60 checks');
    if (asked.some((earlier) => 'check' in earlier && earlier.check === verdict.check)) {
      throw new Error(`${verdict.check} is asked twice`);
    }
    asked.push(verdict);
    const finding = answer(hypothesis, verdict.check, pick);
    findings.push(finding);
    belief = addFinding(model, belief, finding, situation.person);
  }
}
