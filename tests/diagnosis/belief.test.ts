import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addFinding,
  believe,
  buildDiagnosisModel,
  type Finding,
  startBelief,
  suspects,
  warmUp,
  withTreated,
} from '../../src/diagnosis/index.ts';
import { alto, knowledge, model } from './support/alto.ts';
import { hypothesisOf, playedExactly } from './support/simulation.ts';

const answered = fc.constantFrom('speaks', 'unsteady', 'wrong', 'silent', 'could-not-tell' as const);
const noteFinding: fc.Arbitrary<Finding> = fc
  .record({ fingering: fc.constantFrom(...alto.fingerings), answered, names: fc.boolean() })
  .map(({ fingering, answered: said, names }) => ({
    note: fingering.note,
    fingering: fingering.id,
    answered: said as 'speaks',
    ...(names && (said as string) === 'wrong' ? { sounded: 'G4' } : {}),
  }));
const checkFinding: fc.Arbitrary<Finding> = fc
  .constantFrom(...model.checks.filter(({ kind }) => kind !== 'play'))
  .chain((check) => fc.constantFrom(...check.answers.map(({ id }) => ({ check: check.id, saw: id }))));
const findings = fc.array(fc.oneof(noteFinding, checkFinding), { maxLength: 12 });

// The first answers to a check are slow, because its predictions are worked out then.
const RUNS = 20;
const PATIENCE = 30_000;

const chances = (list: readonly Finding[]) => {
  const { faults, healthy, somethingElse } = suspects(model, believe(model, list, 'director'));
  return {
    faults: new Map(faults.map(({ fault, probability }) => [fault, probability])),
    healthy,
    somethingElse,
  };
};

describe('chances', () => {
  it(
    'sum to 1 after any findings, each between 0 and 1',
    () => {
      fc.assert(
        fc.property(findings, (list) => {
          const { faults, healthy, somethingElse } = chances(list);
          const all = [...faults.values(), healthy, somethingElse];
          expect(all.every((chance) => chance >= 0 && chance <= 1 + 1e-9)).toBe(true);
          expect(all.reduce((sum, chance) => sum + chance, 0)).toBeCloseTo(1, 6);
        }),
        { numRuns: RUNS },
      );
    },
    PATIENCE,
  );

  it(
    'do not depend on the order of the findings',
    () => {
      fc.assert(
        fc.property(findings, fc.integer(), (list, seed) => {
          const shuffled = list
            .map((finding, index) => ({ finding, key: (index * 7919 + seed) % 13 }))
            .sort((a, b) => a.key - b.key);
          const there = chances(list);
          const back = chances(shuffled.map(({ finding }) => finding));
          expect(back.healthy).toBeCloseTo(there.healthy, 9);
          for (const [fault, chance] of there.faults)
            expect(back.faults.get(fault) ?? 0).toBeCloseTo(chance, 6);
        }),
        { numRuns: RUNS },
      );
    },
    PATIENCE,
  );

  it(
    'are the same whether findings come one by one or all at once',
    () => {
      fc.assert(
        fc.property(findings, (list) => {
          const together = believe(model, list, 'helper');
          let step = startBelief(model);
          for (const finding of list) step = addFinding(model, step, finding, 'helper');
          // Step by step, hypotheses beyond hope stay dropped until the findings grow too surprising: some 1e-4 in all.
          expect(step.logEvidence).toBeCloseTo(together.logEvidence, 3);
          for (const [fault, chance] of together.present.entries())
            expect(step.present[fault]).toBeCloseTo(chance, 3);
        }),
        { numRuns: RUNS },
      );
    },
    PATIENCE,
  );

  it('add up whatever went before, also where a fault makes it rarer and whatever was asked of the model first', () => {
    const fresh = buildDiagnosisModel(alto, knowledge);
    for (const check of fresh.checks.filter(({ group }) => group === 'history')) {
      fresh.rows(fresh.positionOf(check.id), 'director');
      for (const { id } of check.answers) {
        const { mass } = believe(fresh, [{ check: check.id, saw: id }], 'director');
        expect(
          mass.reduce((sum, share) => sum + share, 0),
          `${check.id} ${id}`,
        ).toBeCloseTo(1, 6);
      }
    }
  });

  it('are the stated frequencies when nothing has been found', () => {
    const { faults, healthy, somethingElse } = suspects(model, startBelief(model));
    const { frequencies } = knowledge;
    expect(somethingElse / healthy).toBeCloseTo(
      frequencies.somethingElse.per100 / frequencies.healthy.per100,
      9,
    );
    const chance = (fault: string) => faults.find((suspect) => suspect.fault === fault)!.probability;
    // 6 and 10 x 9/10 per 100; the pairs shift shares a little.
    expect(chance('slack@link.fsharp-holds-gsharp') / chance('sticks@cup.gsharp')).toBeCloseTo(6 / 9, 1);
  });

  it('of a pair go to the fault that explains something', () => {
    const failing = ['C#4', 'B3', 'Bb3'].map((note): Finding => ({ note, answered: 'silent' }));
    const speaking = ['D4', 'C4', 'E4', 'F4', 'G4', 'A4'].map(
      (note): Finding => ({ note, answered: 'speaks' }),
    );
    const [lead] = suspects(model, believe(model, [...failing, ...speaking], 'director')).faults;
    expect(lead!.fault).toBe('slack@link.fsharp-holds-gsharp');
    // Beside the true fault any other may stand; that must take hardly anything from its share.
    expect(lead!.present - lead!.probability).toBeLessThan(0.01);
  });
});

describe('a finding', () => {
  const start = believe(model, [{ note: 'D4', answered: 'speaks' }], 'director');

  it('that could not be told changes nothing', () => {
    expect(addFinding(model, start, { note: 'C4', answered: 'could-not-tell' }, 'director')).toBe(start);
    expect(
      addFinding(model, start, { check: 'tap@link.fsharp-holds-gsharp', saw: 'could-not-tell' }, 'director'),
    ).toBe(start);
  });

  it('said twice counts once', () => {
    expect(addFinding(model, start, { note: 'D4', answered: 'speaks' }, 'director')).toBe(start);
  });

  it('is understood in any spelling of the note', () => {
    const sharp = believe(model, [{ note: 'C#4', answered: 'silent' }], 'director');
    const flat = believe(model, [{ note: 'Db4', answered: 'silent' }], 'director');
    expect(flat.present).toEqual(sharp.present);
  });

  it('says the same as the note check that it answers', () => {
    const note = believe(model, [{ note: 'C#4', answered: 'silent' }], 'director');
    const check = believe(model, [{ check: 'play@fg.Cs4', saw: 'silent' }], 'director');
    expect(check.present).toEqual(note.present);
  });

  it('says more when a wrong note is named', () => {
    const unnamed = believe(model, [{ note: 'G#4', answered: 'wrong' }], 'director');
    const named = believe(model, [{ note: 'G#4', answered: 'wrong', sounded: 'G4' }], 'director');
    const stuck = model.hypotheses.faultNumber.get('sticks@cup.gsharp')!;
    expect(named.present[stuck]).toBeGreaterThan(unnamed.present[stuck]!);
  });

  it('weighs less from a caller than from somebody who holds the instrument', () => {
    const list = playedExactly(hypothesisOf('sticks@cup.low-eb'));
    const stuck = model.hypotheses.faultNumber.get('sticks@cup.low-eb')!;
    expect(believe(model, list, 'desk').present[stuck]).toBeLessThan(
      believe(model, list, 'director').present[stuck]!,
    );
  });

  it.each([
    [{ note: 'H4', answered: 'speaks' }, /no written note.*Bb3/],
    [{ note: 'A3', answered: 'speaks' }, /no written note/],
    [{ note: 'D4', fingering: 'fg.none', answered: 'speaks' }, /no fingering "fg.none"/],
    [{ note: 'D4', answered: 'wrong', sounded: 'loud' }, /no note name/],
    [{ check: 'tap@link.none', saw: 'still' }, /no check/],
    [{ check: 'tap@link.fsharp-holds-gsharp', saw: 'sings' }, /still, stirs and could-not-tell/],
  ])('that is unknown is refused with what is known: %o', (finding, message) => {
    expect(() => addFinding(model, start, finding as Finding, 'director')).toThrow(message);
  });
});

describe('warming up', () => {
  it(
    'goes check by check and changes no belief',
    () => {
      const fresh = buildDiagnosisModel(alto, knowledge);
      const finding: Finding = { note: 'C#4', answered: 'silent' };
      expect([...warmUp(fresh)].length).toBe(alto.playTest.length + fresh.checks.length);
      expect(believe(fresh, [finding], 'director').present).toEqual(
        believe(model, [finding], 'director').present,
      );
    },
    PATIENCE,
  );
});

describe('a treated fault', () => {
  const fault = 'slack@link.fsharp-holds-gsharp';
  const number = model.hypotheses.faultNumber.get(fault)!;
  const before = believe(model, playedExactly(hypothesisOf(fault)), 'director');

  it('keeps a small chance after mending, and leaves the others in proportion to each other', () => {
    const list = playedExactly(0);
    const plain = believe(model, list, 'director');
    const after = withTreated(model, plain, [{ fault, exit: 'mended' }]);
    const one = model.hypotheses.faultNumber.get('sticks@cup.bis')!;
    const other = model.hypotheses.faultNumber.get('leaks@cup.d')!;
    expect(after.present[number]).toBeGreaterThan(0);
    expect(after.present[number]).toBeLessThan(plain.present[number]!);
    expect(after.present[one]! / after.present[other]!).toBeCloseTo(
      plain.present[one]! / plain.present[other]!,
      1,
    );
  });

  it('loses ground when the treatment changed nothing', () => {
    const after = withTreated(model, before, [{ fault, exit: 'unchanged' }]);
    expect(after.present[number]).toBeLessThan(before.present[number]!);
  });

  it('may be told with the belief or afterwards', () => {
    const treated = [{ fault, exit: 'mended' as const }];
    const list = playedExactly(hypothesisOf('sticks@cup.gsharp'));
    const told = believe(model, list, 'director', treated);
    const later = withTreated(model, believe(model, list, 'director'), treated);
    expect(later.present).toEqual(told.present);
    expect(withTreated(model, later, treated)).toBe(later);
  });

  it('must be one of the instrument', () => {
    expect(() => withTreated(model, before, [{ fault: 'slack@link.none', exit: 'mended' }])).toThrow(
      /no fault/,
    );
  });
});
