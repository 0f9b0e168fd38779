import { describe, expect, it } from 'vitest';
import { type Finding, playCheckId, readFinding, suspects } from '../../src/diagnosis/index.ts';
import { predict } from '../../src/diagnosis/prediction.ts';
import type { Severity } from '../../src/mechanism/index.ts';
import { alto, director, model } from './support/alto.ts';
import { answer, exactly, hypothesisOf, runToVerdict } from './support/simulation.ts';

const { hypotheses } = model;
const everyNote = alto.fingerings.map(({ id }) => playCheckId(id));

/** Whether two faults answer every finding alike, so that nothing seen so far can tell them apart. */
function looksAlike(one: number, other: number, findings: readonly Finding[]): boolean {
  return findings.every((finding) => {
    const { position } = readFinding(model, finding);
    const predictions = model.predictions(position);
    const rows = model.rows(position, 'director');
    const best = (hypothesis: number) => exactly(rows[predict(model.predictor, predictions, hypothesis)]!);
    return best(one) === best(other);
  });
}

/** The rank of a fault among the suspects once exact answers have led to a decision, and a like one's if that is better. */
function rankOf(fault: string, severity: Severity): { rank: number; verdict: string } {
  const hypothesis = hypothesisOf(fault, severity);
  const played = everyNote.map((check) => answer(hypothesis, check, exactly));
  const { belief, findings, verdict } = runToVerdict(hypothesis, director, played);
  const faults = suspects(model, belief).faults.slice(0, 3);
  const rank = faults.findIndex(
    (suspect) =>
      suspect.fault === fault ||
      [...hypotheses.having[hypotheses.faultNumber.get(suspect.fault)!]!]
        .filter((one) => one < hypotheses.firstPair)
        .some((one) => looksAlike(hypothesis, one, findings)),
  );
  if (rank === -1 && looksAlike(hypothesis, 0, findings))
    return { rank: 0, verdict: 'no answer tells it from a good instrument' };
  return { rank, verdict: verdict.kind };
}

describe('every fault', () => {
  it.each(alto.faults.map(({ id }) => id))(
    '%s, answered exactly, ends among the first three suspects, or a fault that gives the same answers does',
    (fault) => {
      const { rank, verdict } = rankOf(fault, 'moderate');
      expect(rank, verdict).toBeGreaterThanOrEqual(0);
    },
    20_000,
  );

  it.each([...new Set(alto.faults.map(({ kind }) => kind))])(
    'of the kind %s leads somewhere, when gross',
    (kind) => {
      const leads = alto.faults
        .filter((fault) => fault.kind === kind)
        .some(({ id }) => rankOf(id, 'gross').rank === 0);
      expect(leads).toBe(true);
    },
    20_000,
  );
});
