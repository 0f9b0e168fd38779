/** The priors of an instrument on which something has been treated. */
import { faultNumberOf } from './fault-words.ts';
import { HEALTHY } from './hypotheses.ts';
import type { DiagnosisModel } from './model.ts';
import type { TreatedFault } from './schema.ts';

const treatedPriors = new WeakMap<DiagnosisModel, Map<string, Float64Array>>();

/**
 * The priors of an instrument on which faults have been treated. What mended faults leave behind keeps a small chance.
 * The rest follows from the same assumption as the pairs: beside a fault that was there, another one is there with its
 * share of the mean number of faults, so nothing else and one other fault now stand as 1 to that mean. A treatment that
 * changed nothing speaks against its fault, as far as a right treatment can fail.
 */
export function priorAfter(model: DiagnosisModel, treated: readonly TreatedFault[]): Float64Array {
  const { hypotheses } = model;
  if (treated.length === 0) return hypotheses.logPrior;
  const known = treatedPriors.get(model) ?? new Map<string, Float64Array>();
  treatedPriors.set(model, known);
  const entries = [...new Set(treated.map(({ fault, exit }) => `${exit} ${fault}`))].sort();
  const key = entries.join(' ');
  let prior = known.get(key);
  if (prior === undefined) {
    prior = hypotheses.logPrior.slice();
    const { mendedResidual, unchangedResidual } = model.knowledge.people.rules;
    if (treated.some(({ exit }) => exit === 'mended')) {
      prior[HEALTHY] = Math.log(hypotheses.oneFault / hypotheses.meanFaults);
    }
    for (const entry of entries) {
      const [exit, id] = entry.split(' ') as [TreatedFault['exit'], string];
      const less = Math.log((exit === 'mended' ? mendedResidual : unchangedResidual).value);
      for (const hypothesis of hypotheses.having[faultNumberOf(model, id)]!) prior[hypothesis]! += less;
    }
    known.set(key, prior);
  }
  return prior;
}
