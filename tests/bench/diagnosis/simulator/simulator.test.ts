import { describe, expect, it } from 'vitest';
import { faultRates } from '../../../../src/diagnosis/hypotheses.ts';
import { isAmong, truthIds } from '../measures/guess.ts';
import { casesNeeded, mean, quantile, share } from '../measures/statistics.ts';
import { everyFinding } from '../policies/ceiling.ts';
import { openLaboratory, runCase } from '../run-case.ts';
import { drawCase, type Truth } from './case.ts';
import { drawsOf } from './draws.ts';
import { answerCheck } from './inspector.ts';
import { instrumentWithout } from './maker.ts';
import { layOut } from './patient.ts';
import { playNote } from './player.ts';

const laboratory = openLaboratory();
const alto = laboratory.stock('alto-saxophone');
const cases = (count: number, person: 'director' | 'helper' | 'desk' = 'director') =>
  Array.from({ length: count }, (_, seed) => drawCase(alto, seed + 1, person));

describe('a draw', () => {
  it('depends on seed and name only', () => {
    const [one, other] = [drawsOf(7), drawsOf(7)];
    const first = one.uniform('a');
    other.uniform('b');
    expect(other.uniform('a')).toBe(first);
    expect(drawsOf(8).uniform('a')).not.toBe(first);
  });

  it('is even, or normal, over many names', () => {
    const draws = drawsOf('spread');
    const names = Array.from({ length: 4000 }, (_, index) => `${index}`);
    const even = names.map((name) => draws.uniform(name));
    const normal = names.map((name) => draws.normal(name, 2));
    expect(mean(even)).toBeCloseTo(0.5, 1);
    expect(quantile(even, 0.9)).toBeCloseTo(0.9, 1);
    expect(mean(normal)).toBeCloseTo(0, 0);
    expect(mean(normal.map((value) => value ** 2))).toBeGreaterThan(3.6);
    expect(mean(normal.map((value) => value ** 2))).toBeLessThan(4.4);
  });
});

describe('a simulated run', () => {
  it('comes out the same from the same seed', () => {
    const order = { instrument: 'alto-saxophone', person: 'helper', seed: 3 } as const;
    expect(runCase(laboratory, order)).toEqual(runCase(openLaboratory(laboratory.content), order));
  });

  it('never offers an adjusting step without the part’s own proof', () => {
    for (let seed = 1; seed <= 8; seed += 1) {
      const { offers } = runCase(laboratory, {
        instrument: 'alto-saxophone',
        person: 'director',
        seed,
        extent: 'walk',
      });
      expect(offers.filter(({ isProved }) => !isProved)).toEqual([]);
    }
  });
});

describe('a simulated person', () => {
  it('says the same when asked twice, in any order', () => {
    for (const the of cases(4, 'desk')) {
      const once = everyFinding(alto.model, the);
      const again = drawCase(alto, the.seed, 'desk');
      for (const finding of once.toReversed()) {
        if ('check' in finding)
          expect(answerCheck(again, alto.model, finding.check, again.truth.faults)).toBe(finding.saw);
        else
          expect(
            playNote(again, alto.model.instrument.fingering(finding.fingering!), again.truth.faults),
          ).toEqual(finding);
      }
    }
  });

  it('who looks at the wrong part sees nothing wrong at it with any check', () => {
    const looks = ['look@cup.g', 'lift@cup.g', 'rises@cup.g'];
    const gross = ['pad-lost', 'spring-off', 'sticks'].map((kind) => [
      { fault: alto.model.instrument.fault(`${kind}@cup.g`), severity: 'gross' as const },
    ]);
    const quiet = ['nothing', 'springy', 'rises'];
    const missed = cases(400, 'desk').map((the) =>
      looks.map((look, index) => answerCheck(the, alto.model, look, gross[index]!) === quiet[index]),
    );
    const each = mean(looks.map((_, index) => share(missed, (row) => row[index]!)));
    const together = share(missed, (row) => row.every((isMissed) => isMissed));
    // Three slips for themselves would come together as seldom as the third power of one.
    expect(each).toBeGreaterThan(0.03);
    expect(together).toBeGreaterThan(5 * each ** 3);
  });

  it('hardly ever fails a sound instrument at a note, and fails one with a gross leak at its low notes', () => {
    const low = alto.model.instrument.playTest.find(({ note, register }) => register === 1 && note === 'D4')!;
    const leak = [{ fault: alto.model.instrument.fault('leaks@cup.g'), severity: 'gross' as const }];
    const fails = (faults: Truth['faults']) =>
      share(cases(300), (the) => {
        const sound = { ...the, truth: { faults, unlisted: null, danger: 'none' as const } };
        return ['unsteady', 'silent', 'wrong'].includes(playNote(sound, low, faults).answered);
      });
    expect(fails([])).toBeLessThan(0.12);
    expect(fails(leak)).toBeGreaterThan(0.85);
  });
});

describe('what is hidden', () => {
  it('comes as often as frequencies.yaml says', () => {
    const { healthy, somethingElse, meanFaults } = alto.files['frequencies.yaml'];
    const faults = faultRates(alto.model.instrument, alto.files['frequencies.yaml']).reduce(
      (sum, rate) => sum + rate,
      0,
    );
    const two = (faults * meanFaults.value) / 2;
    const all = healthy.per100 + somethingElse.per100 + faults + two;
    const drawn = cases(1500).map(({ truth }) => truth);
    const near = (measured: number, expected: number) =>
      expect(Math.abs(measured - expected)).toBeLessThan(
        4 * Math.sqrt((expected * (1 - expected)) / drawn.length),
      );
    near(
      share(drawn, ({ unlisted }) => unlisted !== null),
      somethingElse.per100 / all,
    );
    near(
      share(drawn, (truth) => truthIds(truth)[0] === 'healthy'),
      healthy.per100 / all,
    );
    near(
      share(drawn, (truth) => truth.faults.length === 2),
      two / all,
    );
    const sticks = alto.files['frequencies.yaml'].groups.find(({ name }) => name === 'G sharp cup stuck')!;
    near(
      share(
        drawn,
        ({ faults: [first] }) =>
          first?.fault.place === 'cup.gsharp' && ['sticks', 'spring-off'].includes(first.fault.kind),
      ),
      (sticks.per100 * (1 + meanFaults.value / 2)) / all,
    );
  });

  it('is never at a part that this maker leaves out', () => {
    for (const { maker, truth } of cases(300))
      for (const { fault } of truth.faults) expect(maker.without).not.toContain(fault.place);
  });

  it('is at two places when there are two faults', () => {
    for (let seed = 1; seed < 100; seed += 1) {
      const { truth } = drawCase(alto, seed, 'director', { draw: 'two-faults' });
      expect(new Set(truth.faults.map(({ fault }) => fault.place)).size).toBe(2);
    }
  });
});

describe('a maker', () => {
  it('may leave out whatever the data call optional, on every instrument', () => {
    for (const id of laboratory.content.instruments.keys()) {
      const { files } = laboratory.stock(id);
      const { vents, links } = files['mechanism.yaml'];
      for (const { id: part, presence } of [...vents, ...links]) {
        if (presence === 'all') continue;
        expect(instrumentWithout(files, [part]).hasPart(part)).toBe(false);
      }
    }
  });

  it('leaves the high F sharp key away now and then, touch and fingerings with it', () => {
    const without = cases(200).filter(({ maker }) => maker.without.includes('cup.high-fsharp'));
    expect(without.length).toBeGreaterThan(20);
    for (const { maker } of without) expect(maker.instrument.hasPart('touch.high-fsharp')).toBe(false);
  });
});

describe('the instrument in hand', () => {
  const screw = 'slack@link.fsharp-holds-gsharp';
  const withSlack = cases(400).find(
    ({ truth }) => truth.faults[0]?.fault.id === screw && truth.faults.length === 1,
  )!;

  it('is well once its screw has been turned as far as it was off, and ill the other way beyond', () => {
    const patient = layOut(withSlack);
    const off = patient.offset('link.fsharp-holds-gsharp');
    expect(patient.has(screw)).toBe(true);
    patient.turnIn('link.fsharp-holds-gsharp', off);
    expect(patient.faults()).toEqual([]);
    patient.turnIn('link.fsharp-holds-gsharp', 2);
    expect(patient.has('tight@link.fsharp-holds-gsharp')).toBe(true);
    expect(patient.strayTurns()).toBe(0);
  });

  it('counts what is turned at a screw that was in order, until it is turned back', () => {
    const patient = layOut(withSlack);
    patient.turnIn('link.fsharp-holds-bis', 3);
    expect(patient.strayTurns()).toBe(3);
    patient.turnIn('link.fsharp-holds-bis', -3);
    expect(patient.strayTurns()).toBe(0);
    expect(patient.has('tight@link.fsharp-holds-bis')).toBe(false);
  });
});

describe('measures', () => {
  it('ask for 59, 93 or 124 cases to show 95 % with no, one or two misses', () => {
    // Exact binomial (Clopper & Pearson 1934, Biometrika 26:404-413), computed independently; 90 % and 99 % likewise.
    expect([0, 1, 2].map((misses) => casesNeeded(0.95, misses))).toEqual([59, 93, 124]);
    expect([0, 1, 2].map((misses) => casesNeeded(0.9, misses))).toEqual([29, 46, 61]);
    expect([0, 1, 2].map((misses) => casesNeeded(0.99, misses))).toEqual([299, 473, 628]);
  });

  it('count a guess as right when any true fault is among the first so many', () => {
    const guess = { first: ['a', 'b', 'c'], chance: 0.5, truthChance: 0.2, deed: 'bench' };
    expect(isAmong(guess, ['c', 'z'], 3)).toBe(true);
    expect(isAmong(guess, ['c', 'z'], 2)).toBe(false);
    expect(isAmong(guess, ['d'], 3)).toBe(false);
  });
});
