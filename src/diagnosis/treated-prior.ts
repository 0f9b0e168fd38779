/** The priors of an instrument on which something has been treated. */
import { faultNumberOf } from './fault-words.ts';
import { HEALTHY } from './hypotheses.ts';
import type { DiagnosisModel } from './model.ts';
import type { TreatedFault } from './schema.ts';

const treatedPriors = new WeakMap<DiagnosisModel, Map<string, Float64Array>>();

/**
 * The priors of an instrument on which faults have been treated. A fault that was mended was there: nothing else being wrong, it is
 * there still with the chance that a mended one comes back, however rare it is among all instruments.
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
    const gone = Math.log(hypotheses.oneFault / hypotheses.meanFaults);
    if (treated.some(({ exit }) => exit === 'mended')) prior[HEALTHY] = gone;
    for (const entry of entries) {
      const [exit, id] = entry.split(' ') as [TreatedFault['exit'], string];
      const fault = faultNumberOf(model, id);
      const change =
        exit === 'mended'
          ? gone + oddsOf(mendedResidual.value) - logPriorAlone(model, fault)
          : Math.log(unchangedResidual.value);
      for (const hypothesis of hypotheses.having[fault]!) prior[hypothesis]! += change;
    }
    known.set(key, prior);
  }
  return prior;
}

/** The logarithm of the odds of a chance. */
const oddsOf = (chance: number) => Math.log(chance / (1 - chance));

/** The logarithm of how often a fault is there with nothing beside it, however bad. */
function logPriorAlone({ hypotheses }: DiagnosisModel, fault: number): number {
  const alone = hypotheses.having[fault]!.filter((hypothesis) => hypothesis < hypotheses.firstPair);
  return Math.log(alone.reduce((sum, hypothesis) => sum + Math.exp(hypotheses.logPrior[hypothesis]!), 0));
}
