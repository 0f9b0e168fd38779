import { describe, expect, it } from 'vitest';
import { faultRates, layOutHypotheses } from '../../src/diagnosis/hypotheses.ts';
import {
  buildDiagnosisModel,
  findKnowledgeProblems,
  type Knowledge,
  KnowledgeError,
} from '../../src/diagnosis/index.ts';
import { alto, knowledge, model } from './support/alto.ts';

const withFault = (kind: string, change: object): Knowledge => ({
  ...knowledge,
  faults: {
    kinds: knowledge.faults.kinds.map((entry) => (entry.kind === kind ? { ...entry, ...change } : entry)),
  },
});
const withCheck = (id: string, change: object): Knowledge => ({
  ...knowledge,
  checks: {
    ...knowledge.checks,
    kinds: knowledge.checks.kinds.map((kind) => (kind.id === id ? { ...kind, ...change } : kind)),
  },
});

describe('the data files of the diagnosis', () => {
  it('fit each other and the instrument', () => {
    expect(findKnowledgeProblems(alto, knowledge)).toEqual([]);
  });

  it.each<[string, Knowledge, RegExp]>([
    [
      'a proof by an unknown check',
      withFault('leaks', { confirm: [{ check: 'smell', saw: 'burnt' }] }),
      /faults.yaml, kind leaks: names the check "smell"/,
    ],
    [
      'a proof by an unknown answer',
      withFault('leaks', { confirm: [{ check: 'paper', saw: 'burns' }] }),
      /no answer "burns"; it has grips, slips/,
    ],
    ['a sign with an unknown answer', withFault('sticks', { signs: { lift: 'sings' } }), /no answer "sings"/],
    [
      'a fault that nothing can prove',
      withFault('water', { confirm: [{ check: 'paper', saw: 'slips' }] }),
      /kind water: has no confirming check that fits bore/,
    ],
    [
      'a kind of fault left out',
      { ...knowledge, faults: { kinds: knowledge.faults.kinds.filter(({ kind }) => kind !== 'bent') } },
      /kind bent: is missing/,
    ],
    [
      'a check with an unknown sense',
      withCheck('paper', { sense: 'smell' }),
      /checks.yaml, check paper: has the sense "smell"/,
    ],
    [
      'a rule that names an unknown answer',
      withCheck('paper', { rule: { by: 'sealing', leaks: 'burns' } }),
      /its rule names the answer "burns"/,
    ],
    [
      'a frequency for a fault that cannot be',
      {
        ...knowledge,
        frequencies: {
          ...knowledge.frequencies,
          groups: [
            {
              name: 'odd',
              per100: 1,
              spread: [{ kinds: ['water'], places: ['cup.d'], weight: 1 }],
              source: ['estimate'],
            },
          ],
        },
      },
      /frequencies.yaml, group "odd": water@cup.d is no fault/,
    ],
  ])('are refused with what to do: %s', (_, broken, message) => {
    expect(() => buildDiagnosisModel(alto, broken)).toThrow(KnowledgeError);
    expect(() => buildDiagnosisModel(alto, broken)).toThrow(message);
  });

  it('name a word of a sentence that the part does not have', () => {
    expect(() => buildDiagnosisModel(alto, withCheck('wobble', { ask: 'Press the {{opener}}.' }))).toThrow(
      /\{\{opener\}\}.*known: .*place/,
    );
  });
});

describe('the hypotheses', () => {
  const { hypotheses } = model;
  const priors = hypotheses.logPrior.map(Math.exp);

  it('are exclusive and their priors sum to 1', () => {
    expect(priors.reduce((sum, prior) => sum + prior, 0)).toBeCloseTo(1, 9);
  });

  it('hold every fault in each severity that makes a difference, by the stated shares', () => {
    const numbers = [...hypotheses.having[hypotheses.faultNumber.get('leaks@cup.d')!]!].filter(
      (one) => one < hypotheses.firstPair,
    );
    const [slight, moderate, gross] = numbers.map((one) => priors[one]!);
    expect(slight! / moderate!).toBeCloseTo(1, 9);
    expect(moderate! / gross!).toBeCloseTo(2, 9);
    const lost = [...hypotheses.having[hypotheses.faultNumber.get('pad-lost@cup.d')!]!].filter(
      (one) => one < hypotheses.firstPair,
    );
    expect(lost.map((one) => hypotheses.placed[one]![0]!.severity)).toEqual(['gross']);
  });

  it('hold pairs as often as independent faults would make them', () => {
    // With a mean of 0.3 faults: P(two) / P(one) = 0.15 less the pairs of one fault with itself. Source: Poisson.
    const pairs = priors.subarray(hypotheses.firstPair).reduce((sum, prior) => sum + prior, 0);
    expect(pairs / hypotheses.oneFault).toBeGreaterThan(0.12);
    expect(pairs / hypotheses.oneFault).toBeLessThan(0.15);
    expect(hypotheses.leftOut).toBeLessThan(0.005);
  });

  it('never pair two faults at one place', () => {
    for (let pair = hypotheses.firstPair; pair < hypotheses.count; pair += 1) {
      const [one, other] = hypotheses.placed[pair]!;
      expect(one!.fault.place).not.toBe(other!.fault.place);
    }
  });

  it('make faults rarer where only some instruments have the part', () => {
    const rates = faultRates(alto, knowledge.frequencies);
    const rate = (fault: string) => rates[hypotheses.faultNumber.get(fault)!]!;
    const { presence } = knowledge.frequencies;
    const everywhere = faultRates(alto, { ...knowledge.frequencies, presence: { ...presence, some: 1 } });
    expect(rate('slack@link.b-holds-csharp')).toBeCloseTo(
      everywhere[hypotheses.faultNumber.get('slack@link.b-holds-csharp')!]! * presence.some,
      9,
    );
  });

  it('keep every pair when none is called too rare', () => {
    const all = layOutHypotheses(alto, { ...knowledge.frequencies, rarestPair: 0 });
    expect(all.leftOut).toBeCloseTo(0, 9);
    expect(all.count).toBeGreaterThan(hypotheses.count);
  });
});
