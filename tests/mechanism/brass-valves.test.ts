import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildInstrument, midi, type Severity, severitiesOf } from '../../src/mechanism/index.ts';
import {
  centsOfPartial,
  partialAt,
  sharpnessOfLoops,
  tuningOfPartial,
} from '../../src/mechanism/tube-length.ts';
import { tuningOf } from '../../src/mechanism/tube-references.ts';
import charts from './published/brass-charts.json' with { type: 'json' };
import { answerOf, fingeringWith, partialOf, readBrass, trumpet } from './support/brass.ts';

// Sources stand beside each table in published/brass-charts.json.

describe('the harmonic series and equal temperament', () => {
  it('has octaves, fifths and thirds where arithmetic has them', () => {
    expect(centsOfPartial(2)).toBeCloseTo(1200, 9);
    expect(centsOfPartial(3)).toBeCloseTo(1901.955, 3);
    expect(tuningOfPartial(5)).toBeCloseTo(-13.686, 3);
  });

  it('leaves out the partials that stand for no note: 7, 11, 13 and 14', () => {
    const used = Array.from({ length: 60 }, (_, semitones) => partialAt(semitones)).filter(
      (one) => one !== null,
    );
    expect(used).toEqual([1, 2, 3, 4, 5, 6, 8, 9, 10, 12, 15, 16]);
  });

  it('makes one loop true, and several together sharp, the more of them the sharper', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 5 }), { minLength: 1, maxLength: 4 }), (loops) => {
        const all = sharpnessOfLoops(loops);
        if (loops.length === 1) expect(all).toBeCloseTo(0, 9);
        else expect(all).toBeGreaterThan(sharpnessOfLoops(loops.slice(1)));
      }),
    );
  });
});

describe('the trumpet against its published fingerings', () => {
  it.each(charts.trumpet.rows)(
    'plays $note with $fingers on partial $partial',
    ({ note, sounds, fingers, partial }) => {
      const fingering = fingeringWith(trumpet, note, fingers);
      expect(fingering.kind).toBe('standard');
      expect(partialOf(trumpet, fingering)).toBe(partial);
      expect(midi(note) + trumpet.transposition.semitones).toBe(midi(sounds));
    },
  );

  it.each(charts.trumpet.rows)(
    'lies for $note as many cents off as arithmetic says',
    ({ note, fingers, partialCents, combinationCents }) => {
      const off = tuningOf(trumpet.tube!, fingeringWith(trumpet, note, fingers));
      expect(off).toBeCloseTo(partialCents + combinationCents, 0);
    },
  );

  it('has every derived alternate, on its partial, and no other', () => {
    const derived = charts.trumpet.rows.flatMap(({ note, alternates }) =>
      alternates.map(({ fingers, partial }) => {
        const fingering = fingeringWith(trumpet, note, fingers);
        expect(partialOf(trumpet, fingering)).toBe(partial);
        return fingering.id;
      }),
    );
    const alternates = trumpet.fingerings.filter(({ kind }) => kind === 'alternate').map(({ id }) => id);
    expect(alternates.sort()).toEqual(derived.sort());
  });
});

describe('the pattern of bad notes over all combinations of the valves', () => {
  const inOrder = charts.combinations.order.map(({ note, fingering }) => ({
    said: note,
    fingering: fingeringWith(trumpet, note.replace(/ on .*/, ''), fingering),
  }));

  it('is played on one partial, in the order of the table, before anything else', () => {
    expect(trumpet.playTest.slice(0, 8)).toEqual(inOrder.map(({ fingering }) => fingering));
    expect(new Set(inOrder.map(({ fingering }) => partialOf(trumpet, fingering)))).toEqual(new Set([3]));
  });

  const rows = charts.combinations.rows.flatMap(({ faults, bad }) =>
    faults.map((told) => {
      const [fault = '', severity = 'moderate'] = told.split(' ');
      return { fault, severity: severity as Severity, bad };
    }),
  );
  it.each(rows)('is $bad for $fault ($severity)', ({ fault, severity, bad }) => {
    const failing = inOrder.filter(({ fingering }) => {
      const { degree, sounded } = answerOf(trumpet, fingering, fault, severity);
      return degree !== 'none' || sounded !== null;
    });
    expect(failing.map(({ said }) => said)).toEqual(bad);
  });
});

describe('a valve that does not move', () => {
  const semitones: Readonly<Record<string, number>> = {
    'touch.first': 2,
    'touch.second': 1,
    'touch.third': 3,
  };
  const loweringOf = (touches: readonly string[]) =>
    touches.reduce((sum, touch) => sum + semitones[touch]!, 0);

  const told = charts.deadOrStuck.rows.flatMap(({ valve, neverGoesDown, neverComesUp }) => {
    const place = `valve.${['first', 'second', 'third'][valve - 1]}`;
    return [
      { fault: `seized@${place}`, wrong: neverGoesDown },
      { fault: `spring-broken@${place}`, wrong: neverComesUp },
    ];
  });

  it.each(told)('gives with $fault the same partial of another length', ({ fault, wrong }) => {
    const expected = new Map(wrong.map((words) => words.split(' sounds near ') as [string, string]));
    for (const fingering of trumpet.fingerings.filter(({ kind }) => kind === 'standard')) {
      const { sounded } = answerOf(trumpet, fingering, fault, 'gross');
      const near = expected.get(fingering.note);
      if (sounded !== null) expect(midi(near!), fingering.note).toBe(sounded);
      // Where the table has a wrong note and we have none, the other length has a partial within 20 cents of the very note.
      else if (near !== undefined) {
        const cents =
          100 *
          (midi(fingering.note) -
            midi('C3') +
            loweringOf(fingering.touches) +
            midi(fingering.note) -
            midi(near));
        const offs = Array.from({ length: 16 }, (_, n) => Math.abs(1200 * Math.log2(n + 1) - cents));
        expect(Math.min(...offs), fingering.note).toBeLessThan(20);
      }
    }
  });
});

describe('faults of valves, slides and water keys', () => {
  it('are there or not where there is nothing between', () => {
    expect(severitiesOf(trumpet.fault('seized@valve.first'))).toEqual(['gross']);
    expect(severitiesOf(trumpet.fault('sluggish@valve.first'))).toHaveLength(3);
  });

  it('a slide troubles only notes whose air goes through it', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...trumpet.fingerings),
        fc.constantFrom('water', 'dented', 'loose'),
        (fingering, kind) => {
          const uses = fingering.touches.includes('touch.second');
          const { degree } = answerOf(trumpet, fingering, `${kind}@slide.second`);
          expect(degree !== 'none').toBe(uses);
        },
      ),
    );
  });

  it('a leak costs a low note at least as much as a high one', () => {
    const order = ['none', 'slight', 'clear', 'severe'];
    const [low, high] = ['C4', 'C6'].map((note) => fingeringWith(trumpet, note, '0'));
    for (const severity of ['slight', 'moderate', 'gross'] as const) {
      const [ofLow, ofHigh] = [low!, high!].map((one) =>
        order.indexOf(answerOf(trumpet, one, 'drips@water-key.main', severity).degree),
      );
      expect(ofHigh).toBeGreaterThan(0);
      expect(ofLow).toBeGreaterThanOrEqual(ofHigh!);
    }
  });

  it('a stuck slide or mouthpiece is not heard at all', () => {
    for (const fingering of trumpet.fingerings)
      for (const fault of ['stuck@slide.main', 'stuck@joint.receiver'])
        expect(answerOf(trumpet, fingering, fault, 'gross')).toEqual({
          degree: 'none',
          octaveUp: false,
          sounded: null,
        });
  });
});

describe('data of a tube that do not hold together', () => {
  const broken = (breaking: (files: ReturnType<typeof readBrass>) => void) => () => {
    const files = readBrass('trumpet');
    breaking(files);
    return buildInstrument(files.mechanism, files.fingerings);
  };

  it.each<[string, Parameters<typeof broken>[0], RegExp]>([
    [
      'a slide of a valve that is not there',
      ({ mechanism }) => mechanism.tube!.slides[1]!.down.push('valve.ninth'),
      /valve\.ninth, which is no valve/,
    ],
    [
      'a water key on nothing',
      ({ mechanism }) => {
        mechanism.tube!.waterKeys[0]!.on = 'slide.ninth';
      },
      /slide\.ninth, which is no slide/,
    ],
    [
      'a valve without a touch',
      ({ mechanism }) => mechanism.touches.pop(),
      /valve\.third is engaged by no touch/,
    ],
    [
      'fingers that give no partial',
      ({ fingerings }) => {
        fingerings.fingerings[0]!.touches = [];
      },
      /gives no partial that stands for F#3/,
    ],
    [
      'a position without a slide for it',
      ({ fingerings }) => {
        fingerings.fingerings[0]!.position = 2;
      },
      /at position 2: the slide has 1/,
    ],
    [
      'a register beside a partial',
      ({ fingerings }) => {
        fingerings.fingerings[0]!.register = 1;
      },
      /leave it out, the partial tells it/,
    ],
    [
      'no tube and no cups',
      ({ mechanism }) => {
        mechanism.tube = undefined;
      },
      /neither cups nor a tube/,
    ],
  ])('name %s and say what to do', (_, breaking, message) => {
    expect(broken(breaking)).toThrow(message);
  });
});
