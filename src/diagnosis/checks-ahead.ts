/** How many checks are still to come: the engine's own policy, followed under the leading explanations. */
import { noteName, predictNote } from '../mechanism/index.ts';
import { addFinding, type Belief, withTreated } from './belief.ts';
import { playCheckId } from './check.ts';
import { HEALTHY } from './hypotheses.ts';
import type { DiagnosisModel } from './model.ts';
import { predict } from './prediction.ts';
import type { RankingCache } from './ranking.ts';
import type { Finding, Situation, TreatedFault } from './schema.ts';
import { suspects } from './suspects.ts';
import { decide } from './verdict.ts';

/** Fewest and most checks that are still to come before it is known what to do. */
export type ChecksAhead = { readonly from: number; readonly to: number };

/** From where the decisions are followed. */
export type AheadQuestion = {
  readonly findings: readonly Finding[];
  readonly situation: Situation;
  readonly treated: readonly TreatedFault[];
  /** What is still to come before a decision: the checks of the set-up, notes to be played, then any check. */
  readonly stages: readonly ('set-up' | 'any' | { readonly notes: readonly string[] })[];
  readonly cache: RankingCache;
  /** What is believed after the findings, and after whatever else counts. */
  readonly belief: Belief;
};

/** So many explanations are followed, unless fewer hold this much of all chances; figures of ours, for the sake of time. */
const FOLLOWED = 4;
const ENOUGH = 0.8;
/** An explanation with less than this part of the leading one's chance is too far behind to be followed; a figure of ours. */
const FAR_BEHIND = 0.1;
/** Nobody is asked more than this; a simulated run that comes so far stops counting. */
const MOST = 20;

/**
 * Follows the decisions as they would be made if one of the leading explanations were true and each check showed what it
 * most likely shows then. That is no forecast of slips and of "could not tell", which make it longer; so the figures are
 * told with "about", and a page says so when they rise.
 */
export function checksAhead(model: DiagnosisModel, question: AheadQuestion): ChecksAhead {
  const counts = leadingExplanations(model, question).map((hypothesis) =>
    follow(model, question, hypothesis),
  );
  return { from: Math.min(...counts), to: Math.max(...counts) };
}

/** The likeliest explanations by their hypotheses: single faults at middling severity, or a sound instrument. */
function leadingExplanations(model: DiagnosisModel, { belief, treated }: AheadQuestion): number[] {
  const list = suspects(model, withTreated(model, belief, treated));
  const explanations = [
    { hypothesis: HEALTHY, share: list.healthy },
    ...list.faults.slice(0, FOLLOWED).map(({ fault, probability }) => ({
      hypothesis: model.hypotheses.middle[model.hypotheses.faultNumber.get(fault)!]!,
      share: probability,
    })),
  ].sort((one, other) => other.share - one.share);
  const leading: number[] = [];
  let share = 0;
  for (const explanation of explanations.slice(0, FOLLOWED)) {
    if (explanation.share < FAR_BEHIND * explanations[0]!.share) break;
    leading.push(explanation.hypothesis);
    share += explanation.share;
    if (share >= ENOUGH) break;
  }
  return leading;
}

function follow(model: DiagnosisModel, question: AheadQuestion, hypothesis: number): number {
  const { situation, treated, stages, cache } = question;
  let { belief, findings } = question;
  const find = (check: string) => {
    const finding = answerOf(model, check, hypothesis, situation);
    findings = [...findings, finding];
    belief = addFinding(model, belief, finding, situation.person);
  };
  let count = 0;
  for (const stage of stages) {
    if (typeof stage === 'object') {
      for (const fingering of stage.notes) find(playCheckId(fingering));
      continue;
    }
    const scope = stage === 'set-up' ? { groups: ['set-up' as const] } : {};
    for (; count < MOST; count += 1) {
      const verdict = decide(model, belief, findings, situation, treated, { ...scope, cache });
      if (verdict.kind !== 'check' && verdict.kind !== 'confirm') break;
      find(verdict.check);
    }
  }
  return count;
}

/** What a check most likely shows under a hypothesis, as a finding. */
function answerOf(model: DiagnosisModel, id: string, hypothesis: number, { person }: Situation): Finding {
  const check = model.check(id);
  if (check.kind === 'play') return noteOf(model, check.place, hypothesis);
  const position = model.positionOf(id);
  const code = predict(model.predictor, model.predictions(position), hypothesis);
  const chances = model.rows(position, person)[code]!;
  return { check: id, saw: check.answers[chances.indexOf(Math.max(...chances))]!.id };
}

function noteOf({ instrument, hypotheses }: DiagnosisModel, id: string, hypothesis: number): Finding {
  const fingering = instrument.fingering(id);
  const { degree, sounded } = predictNote(instrument, fingering, hypotheses.placed[hypothesis]!);
  const note = { note: fingering.note, fingering: id };
  if (sounded !== null) return { ...note, answered: 'wrong', sounded: noteName(sounded) };
  return { ...note, answered: degree === 'none' ? 'speaks' : degree === 'severe' ? 'silent' : 'unsteady' };
}
