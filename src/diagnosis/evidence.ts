/** How much each finding weighs for one suspect and against another. */
import type { Belief } from './belief.ts';
import { settledRatios } from './decision.ts';
import { type ReadFinding, readFinding } from './finding.ts';
import { HEALTHY } from './hypotheses.ts';
import type { DiagnosisModel } from './model.ts';
import type { Finding } from './schema.ts';
import { chancesAlone, weightOf } from './weight.ts';

/** A finding that counts, ready to be weighed. */
export type CountedFinding = { readonly finding: Finding; readonly read: ReadFinding };

/** A finding and how many times likelier it is under one hypothesis than under another. */
export type WeighedFinding = CountedFinding & { readonly ratio: number };

/** The findings that count: told apart, without those that could not be told. */
export function countedFindings(model: DiagnosisModel, findings: readonly Finding[]): CountedFinding[] {
  const seen = new Set<string>();
  return findings
    .map((finding) => ({ finding, read: readFinding(model, finding) }))
    .filter(({ read }) => read.answer !== null && !seen.has(read.key) && seen.add(read.key));
}

/**
 * The likeliest hypothesis that contains a fault: the form in which it has to explain the findings.
 * @param without a fault that must not be part of it; left out when there is none to avoid.
 */
export function bestForm(
  { hypotheses }: DiagnosisModel,
  { mass }: Belief,
  fault: number,
  without?: number,
): number {
  const { first, second, middle, having } = hypotheses;
  let best = middle[fault]!;
  for (const hypothesis of having[fault]!) {
    if (first[hypothesis] === without || second[hypothesis] === without) continue;
    if (mass[hypothesis]! > mass[best]!) best = hypothesis;
  }
  return best;
}

/** The findings by how much likelier they are under one hypothesis than under the other, the strongest first. */
export function weighAgainst(
  model: DiagnosisModel,
  belief: Belief,
  findings: readonly CountedFinding[],
  hypotheses: { readonly one: number; readonly other: number },
): WeighedFinding[] {
  const person = belief.person ?? 'director';
  return findings
    .map((counted) => {
      const weight = weightOf(model, counted.read, person);
      const chances = chancesAlone(weight, belief.conditions);
      const { codes } = weight;
      const ratio = chances[codes[hypotheses.one]!]! / chances[codes[hypotheses.other]!]!;
      return { ...counted, ratio };
    })
    .sort((one, other) => other.ratio - one.ratio);
}

/** As {@link weighAgainst}, against an instrument with nothing wrong. */
export function weighAgainstHealthy(
  model: DiagnosisModel,
  belief: Belief,
  findings: readonly CountedFinding[],
  hypothesis: number,
): WeighedFinding[] {
  return weighAgainst(model, belief, findings, { one: hypothesis, other: HEALTHY });
}

// Words for likelihood ratios: settled as in sequential testing with 5% false alarms and 10% misses (18 times), strong
// from its square root on.
const { settledFor } = settledRatios(0.05, 0.1);

/** A finding below this ratio is not worth mentioning; estimate. */
export const WORTH_MENTIONING = 2;

/** "all but rules it out", "speaks strongly against it", "speaks against it". @param ratio at least 1. */
export function wordsAgainst(ratio: number): string {
  if (ratio >= settledFor) return 'all but rules it out';
  return ratio >= Math.sqrt(settledFor) ? 'speaks strongly against it' : 'speaks against it';
}
