import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import { planOf } from '../../src/mechanism/fingering-plan.ts';
import {
  type Fingering,
  type Instrument,
  isSameNote,
  predictNote,
  ventStates,
} from '../../src/mechanism/index.ts';
import { predictLosses } from '../../src/mechanism/note-effect.ts';
import published from './published/flute.json' with { type: 'json' };
import { rankCorrelation } from './support/rank-correlation.ts';

// Published fingerings and what follows from them: sources by id in published/flute.json.
const { instruments } = loadContent(new URL('../../flows', import.meta.url).pathname);
const built = (id: string): Instrument => instruments.get(id)!.instrument;
const flute = built('flute');

const charted = published.fingerings.filter(({ foot }) => foot === 'any');
const pressedBy = (touches: readonly string[]) => [...touches].sort().join(' ');
const openWith = (instrument: Instrument, touches: readonly string[]) => {
  const states = ventStates(instrument, touches, []);
  return instrument.vents.filter((_, index) => states[index]!.open).map(({ id }) => id);
};
const isKnown = (fault: string, instrument = flute) => instrument.faults.some(({ id }) => id === fault);

function isSpoiled(fingering: Fingering, fault: string, instrument = flute): boolean {
  const { degree, sounded } = predictNote(instrument, fingering, [
    { fault: instrument.fault(fault), severity: 'gross' },
  ]);
  return degree !== 'none' || sounded !== null;
}

describe('the fingerings of the flute against published charts', () => {
  it.each(charted)('has $id for $note, and presses what the charts press', ({ id, note, touches }) => {
    // Only where the G cups move apart does the second right-hand finger change them.
    if (id === 'test.G4+rh2') return;
    const fingering = flute.fingering(id);
    expect(pressedBy(fingering.touches)).toBe(pressedBy(touches));
    expect(isSameNote(fingering.note, note)).toBe(true);
  });

  it('has every standard fingering from C sharp to the highest B in two of three charts at least', () => {
    const few = charted.filter(({ kind, charts }) => kind === 'standard' && charts.length < 2);
    // Low C by the roller alone is in one chart and a repair article, C7 without a foot key in none: see the remarks there.
    expect(few.map(({ id }) => id)).toEqual(['fg.C4', 'fg.C7']);
  });

  it('knows where the charts disagree', () => {
    const disagreeing = charted.filter(
      ({ note, kind, charts }) =>
        kind === 'alternate' &&
        charts.some(
          (chart) =>
            !charted.some(
              (other) =>
                other.note === note &&
                other.kind === 'standard' &&
                (other.charts as string[]).includes(chart),
            ),
        ),
    );
    expect(disagreeing.map(({ id }) => id).sort()).toEqual(
      ['fg.C4-both', 'fg.Bb4-thumb', 'fg.Bb5-thumb', 'fg.Bb6-lh1', 'fg.C7-foot'].sort(),
    );
  });

  it.each(charted)('opens for $id exactly the holes that follow from the charts', ({ touches, open }) => {
    expect(openWith(flute, touches).sort()).toEqual([...open].sort());
  });

  it.each(charted.filter(({ kind }) => kind !== 'test'))(
    'lets $id speak through the hole that is published for it, and lets the holes above it help',
    ({ id, ends, helpers }) => {
      const plan = planOf(flute, flute.fingering(id));
      expect(flute.vents[plan.first]?.id ?? 'end').toBe(ends);
      expect(plan.helpers.map((vent) => flute.vents[vent]!.id)).toEqual(helpers);
    },
  );

  it('needs no register key: the second octave has the fingers of the first, but for D and E flat', () => {
    const touchesOf = (note: string) => pressedBy(flute.fingering(`fg.${note}`).touches);
    for (const note of ['E', 'F', 'Fs', 'G', 'Gs', 'A', 'B'])
      expect(touchesOf(`${note}5`)).toBe(touchesOf(`${note}4`));
    for (const note of ['D', 'Eb'])
      expect(pressedBy([...flute.fingering(`fg.${note}5`).touches, 'touch.lh1'])).toBe(touchesOf(`${note}4`));
  });
});

describe('how a leak disturbs the notes of the flute', () => {
  it.each([
    [1, 0.94],
    [2, 0.88],
  ])('register %i: in the order of the calculated losses (rank correlation above %f)', (register, least) => {
    const leaks = published.leaks.filter((leak) => leak.register === register);
    expect(leaks.length).toBeGreaterThan(80);
    const reckoned = leaks.map(({ cup, fingering }) => {
      const fault = { fault: flute.fault(`leaks@${cup}`), severity: 'moderate' as const };
      const losses = predictLosses(flute, flute.fingering(fingering), [fault]);
      return register === 1 ? losses.first : losses.second;
    });
    const calculated = leaks.map(({ decibels }) => -decibels);
    expect(rankCorrelation(calculated, reckoned)).toBeGreaterThan(least);
  });

  it('spares in the first octave just the notes that the calculation spares', () => {
    const wrong = published.leaks.filter(({ register, cup, fingering, effect }) => {
      const isSpared = effect === 'no matter' || effect === '';
      return register === 1 && isSpoiled(flute.fingering(fingering), `leaks@${cup}`) === isSpared;
    });
    expect(wrong).toEqual([]);
  });
});

/**
 * Where we differ from the published lists, and why.
 * - `lacks`: cups below the hole that the note speaks through. The calculation finds that some high notes and trill
 *   fingerings feel them a little; our column ends at that hole.
 * - `adds`: G6 for a B flat cup that does not close, where the calculation finds less than 1.5 dB and our rule for the third
 *   register counts every hole of the column; C7 with the foot keys, like the C7 that the list has; and for a side lever
 *   that presses at rest the notes that its words name (B dull), and the high ones that need the B flat cup open.
 */
const DIFFERENCES: Readonly<Record<string, { adds?: readonly string[]; lacks?: readonly string[] }>> = {
  'slack@link.f-closes-fsharp': { lacks: ['fg.A6'] },
  'tight@link.f-closes-fsharp': { lacks: ['fg.A6', 'fg.C7'] },
  'tight@link.e-closes-fsharp': { lacks: ['fg.Fs5-rh2', 'fg.Fs6-rh2', 'test.Fs4+rh2rh3'] },
  'tight@link.d-closes-fsharp': { lacks: ['fg.F6-rh3'] },
  'tight@link.f-closes-bflat': { lacks: ['fg.A6', 'fg.Bb6', 'fg.Bb6-lh1', 'fg.C7'] },
  'slack@link.a-closes-bflat': { adds: ['fg.G6'] },
  'tight@link.a-closes-bflat': { adds: ['fg.C7-foot'] },
  'tight@link.side-closes-bflat': {
    adds: ['fg.B4', 'fg.B5', 'fg.B6', 'fg.B6-noeb', 'fg.Fs6', 'fg.Fs6-rh2'],
  },
};

describe('the notes that a link of the flute spoils when it is out of adjustment', () => {
  it.each(published.links.filter(({ fault }) => isKnown(fault)))('$fault', ({ fault, spoiled }) => {
    const ours = flute.fingerings.filter((fingering) => isSpoiled(fingering, fault)).map(({ id }) => id);
    const theirs = spoiled.filter((id) => flute.fingerings.some((fingering) => fingering.id === id));
    const { adds = [], lacks = [] } = DIFFERENCES[fault] ?? {};
    expect([...ours].sort()).toEqual([...theirs.filter((id) => !lacks.includes(id)), ...adds].sort());
  });

  it('has a list for every link', () => {
    const links = flute.links.flatMap(({ id }) => [`slack@${id}`, `tight@${id}`]);
    expect(published.links.map(({ fault }) => fault)).toEqual(expect.arrayContaining(links));
  });
});

describe('flutes that differ', () => {
  it.each(published.fingerings.filter(({ foot }) => foot === 'b'))(
    'has on a B foot $id, with the holes that follow from the charts',
    ({ id, touches, open }) => {
      const instrument = built('flute-b-foot');
      expect(pressedBy(instrument.fingering(id).touches)).toBe(pressedBy(touches));
      const known = instrument.vents.map((vent) => vent.id);
      expect(openWith(instrument, touches).sort()).toEqual(
        open.filter((vent) => known.includes(vent)).sort(),
      );
    },
  );

  it('speaks low C on a B foot through the low B cup', () => {
    const instrument = built('flute-b-foot');
    const plan = planOf(instrument, instrument.fingering('fg.C4'));
    expect(instrument.vents[plan.first]!.id).toBe('cup.b-low');
  });

  it.each(published.fingerings.filter(({ splitE }) => Object.keys(splitE).length > 0))(
    'shuts for $id with a split E what is published, and nothing else',
    ({ touches, open, splitE }) => {
      const shut = Object.keys(splitE);
      expect(openWith(built('flute-split-e'), touches).sort()).toEqual(
        open.filter((vent) => !shut.includes(vent)).sort(),
      );
    },
  );

  it.each(published.links.filter(({ fault }) => fault.includes('glower')))(
    'spoils with a split E the notes that are published: $fault',
    ({ fault, spoiled }) => {
      const instrument = built('flute-split-e');
      const firstTwo = instrument.fingerings.filter(
        ({ kind, register }) => kind === 'standard' && register < 3,
      );
      const ours = firstTwo
        .filter((fingering) => isSpoiled(fingering, fault, instrument))
        .map(({ id }) => id);
      expect(ours.sort()).toEqual(spoiled.filter((id) => firstTwo.some((one) => one.id === id)).sort());
    },
  );

  it('covers on an open-hole flute each hole with the finger that presses its cup, and leaks there if it does not', () => {
    const instrument = built('flute-open-hole');
    for (const { id, touches } of instrument.fingerings) {
      const open = openWith(instrument, touches);
      for (const [hole, cup] of [
        ['hole.a', 'cup.a'],
        ['hole.g', 'cup.g-upper'],
        ['hole.f', 'cup.f'],
        ['hole.e', 'cup.e'],
        ['hole.d', 'cup.d'],
      ])
        expect(open.includes(hole!), id).toBe(open.includes(cup!));
    }
    // Published: a finger that does not cover its hole spoils that note and those below, not those above.
    const spoils = (note: string) =>
      isSpoiled(instrument.fingering(`fg.${note}`), 'uncovered@hole.g', instrument);
    expect(['A4', 'B4'].filter(spoils)).toEqual([]);
    expect(['G4', 'F4', 'D4', 'C4'].filter(spoils)).toEqual(['G4', 'F4', 'D4', 'C4']);
  });

  it('gives a piccolo the fingerings of the flute from low D up', () => {
    const piccolo = built('piccolo');
    for (const { id, touches } of piccolo.fingerings)
      expect(pressedBy(touches)).toBe(pressedBy(flute.fingering(id).touches));
    expect(flute.fingerings.length - piccolo.fingerings.length).toBe(4);
  });
});
