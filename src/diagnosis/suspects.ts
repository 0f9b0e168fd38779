/** The suspects: exclusive shares of the posterior, fault by fault. */

import { type Belief, logLikelihoodOf } from './belief.ts';
import { faultTitle } from './fault-words.ts';
import { HEALTHY, NO_FAULT, SOMETHING_ELSE } from './hypotheses.ts';
import type { DiagnosisModel } from './model.ts';

export type Suspect = {
  readonly fault: string;
  readonly title: string;
  readonly kind: string;
  readonly place: string;
  /** Share of all chances; those of all suspects, `healthy` and `somethingElse` sum to 1. */
  readonly probability: number;
  /** Chance that it is there at all, alone or beside another fault: never less than the probability. */
  readonly present: number;
};

export type Suspects = {
  /** Likeliest first; faults beyond hope are left out. */
  readonly faults: readonly Suspect[];
  readonly healthy: number;
  readonly somethingElse: number;
};

/** The suspects with their chances, likeliest first. */
export function suspects(model: DiagnosisModel, belief: Belief): Suspects {
  const { hypotheses } = model;
  const shares = faultShares(model, belief);
  const faults = hypotheses.faults
    .map((fault, number) => ({ fault, number }))
    .filter(({ number }) => shares[number]! > 0)
    .map(({ fault, number }) => ({
      fault: fault.id,
      title: faultTitle(model, number),
      kind: fault.kind,
      place: fault.place,
      probability: shares[number]!,
      present: belief.present[number]!,
    }))
    .sort((one, other) => other.probability - one.probability);
  return { faults, healthy: belief.mass[HEALTHY]!, somethingElse: belief.mass[SOMETHING_ELSE]! };
}

/** Differences of logarithms below this are rounding, not evidence. */
const ROUNDING = 1e-9;

/**
 * Exclusive shares of the faults. The mass of a pair is split by how much each of the two adds to what the other one
 * explains alone at its best severity, so that a fault that merely happens to stand beside the true one takes none of its chance.
 */
export function faultShares(model: DiagnosisModel, belief: Belief): Float64Array {
  const { hypotheses } = model;
  const { mass } = belief;
  const { first, second, firstPair } = hypotheses;
  const alone = bestAlone(model, belief);
  const shares = new Float64Array(hypotheses.faults.length);
  for (let hypothesis = 0; hypothesis < mass.length; hypothesis += 1) {
    const weight = mass[hypothesis]!;
    const one = first[hypothesis]!;
    if (weight === 0 || one === NO_FAULT) continue;
    if (hypothesis < firstPair) {
      shares[one]! += weight;
      continue;
    }
    const other = second[hypothesis]!;
    const together = logLikelihoodOf(model, belief, hypothesis);
    const oneAdds = Math.max(0, together - alone[other]!);
    const otherAdds = Math.max(0, together - alone[one]!);
    const all = oneAdds + otherAdds;
    const share = all < ROUNDING ? 0.5 : oneAdds / all;
    shares[one]! += weight * share;
    shares[other]! += weight * (1 - share);
  }
  return shares;
}

/** Per fault: log P(findings | this fault alone), in the severity that fits best. */
function bestAlone(model: DiagnosisModel, belief: Belief): Float64Array {
  const { first, firstPair, faults } = model.hypotheses;
  const best = new Float64Array(faults.length).fill(Number.NEGATIVE_INFINITY);
  for (let hypothesis = 0; hypothesis < firstPair; hypothesis += 1) {
    const fault = first[hypothesis]!;
    if (fault !== NO_FAULT) best[fault] = Math.max(best[fault]!, logLikelihoodOf(model, belief, hypothesis));
  }
  return best;
}
