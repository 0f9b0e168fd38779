import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

/**
 * The worked examples of the literature that the diagnosis rests on, each with the test that holds the code to it, or with
 * the reason why there is nothing in the code that it could be held against.
 */
type Example = {
  readonly is: string;
  readonly source: string;
} & ({ readonly test: readonly [file: string, name: string] } | { readonly without: string });

const probing = 'diagnosis/probing.test.ts';
const probability = 'diagnosis/probability.test.ts';
const information = 'diagnosis/information.test.ts';
const decision = 'diagnosis/decision.test.ts';
const limits = 'bench/diagnosis/limits/limits.test.ts';
const derived = 'derived';
const noConflicts =
  'Works on sets of parts that cannot all be sound. Hypotheses are listed one by one here and weighed, so no such set is ever built.';

const examples: readonly Example[] = [
  {
    is: 'three multipliers and two adders: minimal diagnoses',
    source: 'de Kleer & Williams 1987, Artificial Intelligence 32:97-130',
    test: [probing, 'leave the published minimal diagnoses'],
  },
  {
    is: 'the same after one more measurement',
    source: derived,
    without:
      'A further measurement is a finding like every other; the four inverters below are measured one by one.',
  },
  {
    is: 'the same: posterior',
    source: derived,
    test: [probing, 'have the derived posterior and entropy with prior 0.01 for each part'],
  },
  {
    is: 'the same: best probe',
    source: 'de Kleer & Williams 1987',
    test: [probing, 'are best probed at X, by the entropy of the outcome'],
  },
  {
    is: 'hitting sets of seven conflicts',
    source: 'Reiter 1987, Artificial Intelligence 32:57-95',
    without: noConflicts,
  },
  { is: 'full adder', source: 'Reiter 1987', without: noConflicts },
  {
    is: 'conflicts that break the uncorrected tree',
    source: 'Greiner, Smith & Wilkerson 1989, Artificial Intelligence 41:79-88',
    without: noConflicts,
  },
  { is: 'tree search against brute force', source: derived, without: noConflicts },
  {
    is: 'battery, wires and bulbs: why faults need modes',
    source: 'Struss & Dressler 1989, IJCAI',
    without: `Every fault here says how the part misbehaves, so parts without modes cannot be stated. ${noConflicts}`,
  },
  {
    is: 'four inverters in a row',
    source: 'de Kleer & Williams 1987',
    test: [probing, 'are probed at the far end first'],
  },
  {
    is: 'the same, then half-way',
    source: 'de Kleer & Williams 1987',
    test: [probing, 'then in the middle, then next to the suspect, then no more'],
  },
  {
    is: 'the same with one part weaker',
    source: derived,
    test: [probing, 'are probed nearer to a part that breaks more often'],
  },
  {
    is: 'noisy-OR of a fever',
    source: 'Russell & Norvig 2010, sect. 14.3',
    test: [probability, 'gives the fever table from three inhibition probabilities'],
  },
  {
    is: 'burglary when both neighbours call',
    source: 'Russell & Norvig 2010, sect. 14.4',
    test: [probability, 'gives 0.284 for a burglary when both neighbours call'],
  },
  {
    is: 'base rate of one in a hundred',
    source: 'Gigerenzer & Hoffrage 1995, Psychological Review 102:684-704',
    test: [probability, 'gives 7.8% for a positive test at base rate 1%, hit rate 80%, false alarms 9.6%'],
  },
  {
    is: 'four faults and five findings',
    source: derived,
    test: [probability, 'gives the exact posterior of four faults and five findings'],
  },
  {
    is: 'what single faults and pairs leave out',
    source: derived,
    without:
      'A sum over numbers of faults that no code makes. It is the reason why pairs are followed and why a mended instrument is played again.',
  },
  {
    is: 'order of four check-and-mend steps',
    source: 'Heckerman, Breese & Rommelse 1995, Comm. ACM 38(3):49-57; figures derived',
    test: [decision, 'is by probability over cost, and no other of the 24 orders is cheaper'],
  },
  {
    is: 'where the last part need not be checked',
    source: derived,
    without:
      'The order is used for proofs only, and nothing is treated here because everything else was ruled out.',
  },
  {
    is: 'how many parts to try before handing over',
    source: derived,
    without:
      'Proofs are tried in the order above while each pays by its own threshold; a plan of several is never priced as a whole.',
  },
  {
    is: 'actions that share causes',
    source: derived,
    without: 'Each treatment here mends one fault, or faults whose remedy is the same class of action.',
  },
  {
    is: 'value of one question before a repair',
    source: derived,
    without:
      'Questions are chosen by information on what to do, for their cost, and measured against the exact optimum.',
  },
  {
    is: 'six system states and five tests: greedy',
    source: 'Pattipati & Alexandridis 1990, IEEE Trans. SMC 20:872-887',
    test: [information, 'needs 2.86 tests on the published system of six states and five tests'],
  },
  {
    is: 'the same: optimum',
    source: 'Pattipati & Alexandridis 1990',
    test: [limits, 'of the published six-state example is 2.18 tests, the second test first'],
  },
  {
    is: 'the same: rollout',
    source: derived,
    test: [limits, 'finds the optimum of both cases that greedy misses'],
  },
  {
    is: 'the same with costs',
    source: derived,
    test: [limits, 'of the same with costs 1 to 5 is 5.58, above what the cheapest tests could cost'],
  },
  {
    is: 'code of thirteen messages, and of five symbols',
    source: 'Huffman 1952, Proc. IRE 40:1098-1101; Cover & Thomas 2006, sect. 5.6',
    test: [limits, 'give the published lengths of the best codes'],
  },
  {
    is: 'twelve balls',
    source: 'MacKay 2003, ch. 4',
    test: [information, 'finds the odd one of twelve balls in three weighings'],
  },
  {
    is: 'weather table',
    source: 'Quinlan 1986, Machine Learning 1:81-106',
    test: [information, 'measures the gains of the weather table'],
  },
  {
    is: 'a small case that greedy misses',
    source: derived,
    test: [limits, 'of a small case that greedy misses is 2.277778 (own search, computed independently)'],
  },
  {
    is: 'random cases: greedy over optimal',
    source: derived,
    test: [limits, 'is rarely far below what greedy information reaches on random cases'],
  },
  {
    is: 'random cases: rollout over optimal',
    source: derived,
    test: [limits, 'never costs more than greedy where answers never err, and is hardly above the optimum'],
  },
  {
    is: 'classes of action instead of names',
    source: 'Golovin, Krause & Ray 2010, arXiv:1010.3091; figures derived',
    test: [information, 'values a test by what it says about what to do, not about names of faults'],
  },
  {
    is: 'capacity of one noisy answer',
    source: 'Cover & Thomas 2006, ch. 7',
    test: [limits, 'give the capacity of one noisy answer'],
  },
  {
    is: 'five faults, six erring checks',
    source: derived,
    test: [limits, 'with erring answers is 5.43684 on five faults and six checks, the second check first'],
  },
  {
    is: 'the same: where to stop',
    source: derived,
    test: [information, 'costs least near 0.8 in the worked example'],
  },
  {
    is: 'sequential test',
    source: 'Wald 1945, Ann. Math. Stat. 16:117-186',
    test: [decision, 'of settled evidence are 18 and 0.105 for 5% false alarms and 10% misses'],
  },
  {
    is: 'act, test or leave',
    source: 'Pauker & Kassirer 1980, NEJM 302:1109-1117; figures derived',
    test: [decision, 'of testing and acting follow from benefit, harm and the quality of the test'],
  },
  {
    is: 'twenty forecasts',
    source: 'Brier 1950; Murphy 1973; Naeini et al. 2015; figures derived',
    test: [decision, 'comes out as in the worked example of twenty forecasts'],
  },
  {
    is: 'Brier score of many classes',
    source: derived,
    without:
      'Forecasts are scored one by one: the chance stated for the leader, and whether it was the matter.',
  },
  {
    is: 'urgent cases needed',
    source: 'Clopper & Pearson 1934, Biometrika 26:404-413; figures derived',
    test: [
      'bench/diagnosis/simulator/simulator.test.ts',
      'ask for 59, 93 or 124 cases to show 95 % with no, one or two misses',
    ],
  },
  {
    is: 'weight of evidence',
    source: 'Good 1985; figures derived',
    test: [probability, 'adds up from prior odds to posterior odds'],
  },
  {
    is: 'flow with planted faults',
    source: derived,
    test: ['flow/graph.test.ts', 'has 13 transitions and 25 pairs of them'],
  },
  {
    is: 'counts of the conformance tests of SCXML',
    source: 'W3C, implementation report plan of SCXML 1.0',
    without:
      'A count of files that are not carried over; tests/flow/compile.test.ts holds the charts to the same rules in our own words.',
  },
  {
    is: 'made-up instrument of sixty faults',
    source: derived,
    without: 'Another model; the benchmark makes the same comparison on the instruments that are served.',
  },
];

describe('every worked example', () => {
  it.each(examples.filter((example) => 'test' in example))('has its test: $is ($source)', ({ test }) => {
    const [file, name] = test;
    const text = readFileSync(new URL(`../${file}`, import.meta.url), 'utf8');
    expect(text.includes(`'${name}'`), `${file} has no test named "${name}"`).toBe(true);
  });

  it('has a test of its own, or a reason in a sentence', () => {
    const names = examples.map(({ is }) => is);
    expect(new Set(names).size).toBe(names.length);
    const reasons = examples.flatMap((example) => ('without' in example ? [example.without] : []));
    for (const reason of reasons) expect(reason).toMatch(/^[A-Z].{40,}\.$/);
  });
});
