/** The least mean number of answers, notes and checks together, that the whole model allows. */

import { HEALTHY, NO_FAULT, SOMETHING_ELSE } from '../../../../src/diagnosis/hypotheses.ts';
import type { DiagnosisModel, Person } from '../../../../src/diagnosis/index.ts';
import { completePredictions } from '../../../../src/diagnosis/prediction.ts';
import { entropyBits } from '../../../../src/diagnosis/probability.ts';
import { capacityOf, fewestAnswers } from './bounds.ts';

/**
 * What must be learnt (entropy of which fault it is, one fault at a time, less what an error rate leaves open) over the
 * most that any one answer can tell. Loose: no real check reaches its capacity for every instrument.
 * @param error share of wrong calls at the end.
 */
export function fewestAnswersOf(model: DiagnosisModel, person: Person, error: number): number {
  const { logPrior, first, firstPair, faults } = model.hypotheses;
  const masses = new Float64Array(faults.length + 2);
  for (let hypothesis = 0; hypothesis < firstPair; hypothesis += 1) {
    const fault = first[hypothesis]!;
    const at = fault === NO_FAULT ? (hypothesis === HEALTHY ? 0 : SOMETHING_ELSE) : fault + 2;
    masses[at]! += Math.exp(logPrior[hypothesis]!);
  }
  const total = masses.reduce((sum, mass) => sum + mass, 0);
  const capacities = model.checks.flatMap(({ persons }, position) => {
    if (!persons.includes(person)) return [];
    // Only what some hypothesis predicts; rows of other codes stand for nothing.
    const codes = new Set(completePredictions(model.predictor, model.predictions(position)));
    const rows = model.rows(position, person);
    return [
      capacityOf(
        [...codes].map((code) => rows[code]!),
        ROUNDS,
      ),
    ];
  });
  return fewestAnswers(entropyBits(masses.map((mass) => mass / total)), {
    error,
    classes: masses.length,
    capacity: Math.max(...capacities),
  });
}

/** Enough for the second decimal of a capacity. */
const ROUNDS = 60;
