import { describe, expect, it } from 'vitest';
import { HEALTHY } from '../../src/diagnosis/hypotheses.ts';
import { priorAfter } from '../../src/diagnosis/treated-prior.ts';
import { model } from './support/alto.ts';

const { hypotheses, knowledge } = model;
const chance = (logPrior: Float64Array, hypothesis: number) => Math.exp(logPrior[hypothesis]!);
const alone = (fault: string) =>
  hypotheses.having[hypotheses.faultNumber.get(fault)!]!.filter((one) => one < hypotheses.firstPair);
const sum = (logPrior: Float64Array, list: Int32Array) =>
  list.reduce((all, hypothesis) => all + chance(logPrior, hypothesis), 0);

describe('the priors after a fault was mended', () => {
  // One of the commonest faults and one of the rarest: it was there, so it makes no difference how rare it is elsewhere.
  it.each(['sticks@cup.gsharp', 'held-open@cup.palm-eb'])(
    'leave %s there with the chance that a mended fault comes back',
    (fault) => {
      const after = priorAfter(model, [{ fault, exit: 'mended' }]);
      const still = sum(after, alone(fault));
      const share = still / (still + chance(after, HEALTHY));
      expect(share).toBeCloseTo(knowledge.people.rules.mendedResidual.value, 9);
    },
  );

  it('lower no other fault as against another one, alone or beside it', () => {
    const fault = 'sticks@cup.gsharp';
    const after = priorAfter(model, [{ fault, exit: 'mended' }]);
    const treated = hypotheses.faultNumber.get(fault)!;
    const changes = Array.from(after, (now, hypothesis) => now - hypotheses.logPrior[hypothesis]!);
    const changesOf = (isTreated: boolean) =>
      changes.filter((_, hypothesis) => {
        const has = hypotheses.first[hypothesis] === treated || hypotheses.second[hypothesis] === treated;
        return hypothesis !== HEALTHY && has === isTreated;
      });
    for (const change of changesOf(false)) expect(change).toBe(0);
    for (const change of changesOf(true)) expect(change).toBeCloseTo(changesOf(true)[0]!, 9);
  });

  it('hold one other fault beside the mended one as likely as beside any fault', () => {
    const fault = 'sticks@cup.gsharp';
    const after = priorAfter(model, [{ fault, exit: 'mended' }]);
    const others = hypotheses.faults.filter(({ id }) => id !== fault).map(({ id }) => sum(after, alone(id)));
    const ratio = others.reduce((all, one) => all + one, 0) / chance(after, HEALTHY);
    expect(ratio / hypotheses.meanFaults).toBeGreaterThan(0.9);
    expect(ratio / hypotheses.meanFaults).toBeLessThanOrEqual(1);
  });
});

describe('the priors after a treatment that changed nothing', () => {
  it('speak against its fault as far as a right treatment can fail', () => {
    const fault = 'water@bore.neck';
    const after = priorAfter(model, [{ fault, exit: 'unchanged' }]);
    expect(sum(after, alone(fault)) / sum(hypotheses.logPrior, alone(fault))).toBeCloseTo(
      knowledge.people.rules.unchangedResidual.value,
      9,
    );
  });
});
