import { describe, expect, it } from 'vitest';
import { logLikelihoodOf } from '../../src/diagnosis/belief.ts';
import { conditionChances } from '../../src/diagnosis/conditions.ts';
import { addFinding, believe, type Finding, type Person } from '../../src/diagnosis/index.ts';
import { rowsNow } from '../../src/diagnosis/outlook.ts';
import { PeopleFile } from '../../src/diagnosis/people-schema.ts';
import { predict } from '../../src/diagnosis/prediction.ts';
import { midi } from '../../src/mechanism/index.ts';
import { alto, model } from './support/alto.ts';
import { expectClose } from './support/closeness.ts';
import { hypothesisOf } from './support/simulation.ts';

const number = (fault: string) => model.hypotheses.faultNumber.get(fault)!;
const standard = alto.playTest.filter(({ kind }) => kind === 'standard');
const played = (fails: (pitch: number) => boolean): Finding[] =>
  standard.map(({ id, note }) => ({
    note,
    fingering: id,
    answered: fails(midi(note)) ? ('unsteady' as const) : ('speaks' as const),
  }));
const noLowNotes = played((pitch) => pitch < midi('E4'));
const noHighNotes = played((pitch) => pitch > midi('B5'));

describe('somebody who cannot play one end of the instrument', () => {
  it.each([
    ['low', noLowNotes, 1],
    ['high', noHighNotes, 2],
  ] as const)(
    'is thought of when the %s notes fail together and all others speak',
    (_, findings, condition) => {
      const before = believe(model, [], 'helper').conditions;
      const after = believe(model, findings, 'helper').conditions;
      expect(after[condition]).toBeGreaterThan(2 * before[condition]!);
      expect(after.reduce((sum, chance) => sum + chance, 0)).toBeCloseTo(1, 9);
    },
  );

  it('does not make the instrument look as faulty as the same notes from somebody who rarely falls short', () => {
    const healthy = (person: Person) => believe(model, noLowNotes, person).mass[0]!;
    expect(healthy('helper')).toBeGreaterThan(healthy('director'));
  });

  it('does not hide a fault that spoils one low note and spares its neighbours', () => {
    const stuck = number('sticks@cup.low-eb');
    const odd = played(() => false).map((finding): Finding => {
      if (!('note' in finding) || finding.note !== 'Eb4') return finding;
      return { ...finding, answered: 'wrong', sounded: 'D4' };
    });
    expect(believe(model, odd, 'helper').present[stuck]).toBeGreaterThan(0.5);
  });

  it('is told nothing about by notes between the ends', () => {
    const middle = played(() => true).filter(
      (finding) => 'note' in finding && midi(finding.note) > midi('G4') && midi(finding.note) < midi('F5'),
    );
    const [fit, low, high] = believe(model, middle, 'helper').conditions;
    const [fitBefore, lowBefore, highBefore] = conditionChances(model, 'helper');
    expectClose([low! / fit!, high! / fit!], [lowBefore! / fitBefore!, highBefore! / fitBefore!], 9);
  });
});

describe('somebody who plays unevenly', () => {
  const uneven = 3;
  /** Every fourth note wavers, whatever it is. */
  const single = played(() => false).map((finding, index): Finding => {
    const wavers = 'note' in finding && index % 4 === 3;
    return wavers ? { ...finding, answered: 'unsteady' } : finding;
  });

  it('is thought of when single notes waver that have nothing in common', () => {
    const before = conditionChances(model, 'helper')[uneven]!;
    expect(believe(model, single, 'helper').conditions[uneven]).toBeGreaterThan(2 * before);
  });

  it('is not thought of as much where the same notes do not come at all', () => {
    const silent = single.map((finding): Finding => {
      const fails = 'note' in finding && finding.answered === 'unsteady';
      return fails ? { ...finding, answered: 'silent' } : finding;
    });
    const chance = (findings: readonly Finding[]) => believe(model, findings, 'helper').conditions[uneven]!;
    expect(chance(silent)).toBeLessThan(chance(single));
  });

  it('fails some notes outright in editions that do not say how much', () => {
    const { people } = model.knowledge;
    const conditions = people.player.conditions.map((condition) => {
      if (condition.end !== 'all') return condition;
      const { degree: _, ...older } = condition;
      return older;
    });
    const read = PeopleFile.parse({ ...people, player: { conditions } });
    expect(read.player.conditions[uneven - 1]).toMatchObject({ end: 'all', degree: 'clear' });
  });

  it('is no longer thought of when every note speaks', () => {
    const before = conditionChances(model, 'helper')[uneven]!;
    const all = played(() => false);
    expect(believe(model, all, 'helper').conditions[uneven]).toBeLessThan(before / 2);
  });
});

describe('several looks at one part', () => {
  const leak = number('leaks@cup.d');
  const slips: Finding = { check: 'paper@cup.d', saw: 'slips' };
  const shines: Finding = { check: 'light@cup.d', saw: 'shines' };
  const odds = (findings: readonly Finding[]) => {
    const chance = believe(model, findings, 'helper').present[leak]!;
    return chance / (1 - chance);
  };

  it('strengthen each other, but less than two people would who looked apart', () => {
    const before = odds([]);
    const apart = (odds([slips]) / before) * (odds([shines]) / before);
    const together = odds([slips, shines]) / before;
    expect(together).toBeGreaterThan(Math.max(odds([slips]), odds([shines])) / before);
    expect(together).toBeLessThan(apart);
  });

  it('can never say more than that this person does not misjudge the part', () => {
    const three: Finding[] = [slips, shines, { check: 'look@cup.d', saw: 'worn-pad' }];
    const { checks } = model.knowledge.people.blur.helper;
    // Under a sound part the three answers together are at least as likely as a misjudged part makes them.
    const atLeast =
      checks *
      three.reduce((product, finding) => {
        const { answers } = model.check('check' in finding ? finding.check : '');
        return product / answers.length;
      }, 1);
    expect(Math.exp(logLikelihoodOf(model, believe(model, three, 'helper'), 0))).toBeGreaterThanOrEqual(
      atLeast,
    );
  });

  it('count the same in any order, and one by one as all at once', () => {
    const there = believe(model, [slips, shines, ...noLowNotes], 'helper');
    const back = believe(model, [...noLowNotes, shines, slips], 'helper');
    const stepwise = [slips, ...noLowNotes, shines].reduce(
      (belief, finding) => addFinding(model, belief, finding, 'helper'),
      believe(model, [], 'helper'),
    );
    expectClose([...back.present], [...there.present], 9);
    expectClose([...stepwise.present], [...there.present], 9);
  });

  it('that contradict each other make less to be expected of a further one', () => {
    const light = model.positionOf('light@cup.d');
    /** How much likelier light is where the pad leaks than where it is sound. */
    const ratio = (findings: readonly Finding[]) => {
      const rows = rowsNow(model, believe(model, findings, 'helper'), light, 'helper');
      const codeOf = (hypothesis: number) => predict(model.predictor, model.predictions(light), hypothesis);
      return rows[codeOf(hypothesisOf('leaks@cup.d'))]![1]! / rows[codeOf(0)]![1]!;
    };
    const surely = noLowNotes.concat(slips);
    expect(ratio([...surely, { check: 'look@cup.d', saw: 'pad-gone' }])).toBeLessThan(0.9 * ratio(surely));
  });
});
