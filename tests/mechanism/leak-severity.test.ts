import { describe, expect, it } from 'vitest';
import { degreeOf, leakWeight, lossOfWeight } from '../../src/mechanism/distance-law.ts';
import { columnOf, type Fingering, isSameNote, midi, predictNote } from '../../src/mechanism/index.ts';
import { predictLosses } from '../../src/mechanism/note-effect.ts';
import tables from './published/leak-tables.json' with { type: 'json' };
import { alto, placed, speaks, standardFingerings } from './support/alto.ts';
import { rankCorrelation } from './support/rank-correlation.ts';

// Outside measure: the acoustic leak tables, sources in published/leak-tables.json. Medium leak = strength 1.
type Cell = {
  cup: string;
  note: string;
  loss1: number;
  loss2: number;
  inColumn: boolean;
  fingering: Fingering;
};

const cells: Cell[] = tables.mediumLeak.flatMap(({ cup, notes }) =>
  Object.entries(notes as unknown as Record<string, [number, number, boolean]>).map(
    ([note, [loss1, loss2, inColumn]]) => ({
      cup,
      note,
      loss1: -loss1,
      loss2: -loss2,
      inColumn,
      fingering: standardFingerings.find((fingering) => isSameNote(fingering.note, note))!,
    }),
  ),
);
const inColumn = cells.filter((cell) => cell.inColumn);
const distanceOf = ({ cup, note }: Cell) => midi(alto.vent(cup).note!) - midi(note);
const lawLoss = (mode: 1 | 2, cell: Cell) => lossOfWeight(leakWeight('cone', mode, distanceOf(cell)));
const classAt = (mode: 1 | 2, distance: number) => degreeOf(leakWeight('cone', mode, distance));
const classOfLoss = (decibels: number) => degreeOf(10 ** (decibels / 20) - 1);

/**
 * The closed form's second resonance cannot lose more than 7.3 dB to a medium leak; for the palm and high E holes the
 * tables give 8.0 to 8.9, just over the limit of "severe". These pairs are "clear" here.
 */
const ABOVE_THE_CEILING = [
  ...[
    'cup.palm-d A#4',
    'cup.palm-eb A#4',
    'cup.palm-eb B4',
    'cup.side-e B4',
    'cup.side-e C5',
    'cup.side-e C#5',
  ],
  'cup.palm-f C#5',
];

describe('severity of every leaking cup and note against the acoustic tables', () => {
  it('puts the same cups inside the column of each note', () => {
    for (const cell of cells) {
      const isInside = columnOf(alto, cell.fingering.touches).closed.includes(cell.cup);
      expect(isInside, `${cell.cup} for ${cell.note}`).toBe(cell.inColumn);
    }
    expect(inColumn.length).toBeGreaterThan(180);
  });

  it('disturbs the same set: 1 dB or more in some resonance inside the column, less than 2.5 dB outside it', () => {
    for (const cell of cells) {
      const tableDisturbs = Math.max(cell.loss1, cell.loss2) >= (cell.inColumn ? 1 : 2.5);
      const lawDisturbs = cell.inColumn && Math.max(lawLoss(1, cell), lawLoss(2, cell)) >= 1;
      expect(lawDisturbs, `${cell.cup} for ${cell.note}`).toBe(tableDisturbs);
    }
  });

  it.each([1, 2] as const)('agrees in class with the tables within one semitone, resonance %i', (mode) => {
    const beyond = inColumn.filter((cell) => {
      const near = [-1, 0, 1].map((step) => classAt(mode, distanceOf(cell) + step));
      const expected = classOfLoss(mode === 1 ? cell.loss1 : cell.loss2);
      return expected < Math.min(...near) || expected > Math.max(...near);
    });
    expect(beyond.map(({ cup, note }) => `${cup} ${note}`)).toEqual(mode === 1 ? [] : ABOVE_THE_CEILING);
  });

  it('puts all pairs of cup and note in the same order of severity (rank correlation at least 0.95)', () => {
    const table = cells.map(({ loss1 }) => loss1);
    const law = cells.map((cell) => (cell.inColumn ? lawLoss(1, cell) : 0));
    expect(rankCorrelation(table, law)).toBeGreaterThanOrEqual(0.95);
  });

  it('keeps nearly that order among the pairs inside the column alone, where half of them lie on a plateau', () => {
    const table = inColumn.map(({ loss1 }) => loss1);
    const law = inColumn.map((cell) => lawLoss(1, cell));
    expect(rankCorrelation(table, law)).toBeGreaterThanOrEqual(0.945);
  });

  it('follows the median over all cups, semitone by semitone, within 1.3 dB', () => {
    for (const { d, atF1, atF2 } of tables.medianByDistance) {
      expect(Math.abs(lossOfWeight(leakWeight('cone', 1, d)) + atF1), `resonance 1, d = ${d}`).toBeLessThan(
        1.3,
      );
      expect(Math.abs(lossOfWeight(leakWeight('cone', 2, d)) + atF2), `resonance 2, d = ${d}`).toBeLessThan(
        1.3,
      );
    }
  });

  it('does not let severity fall as the note goes down from one semitone to eight below the leak', () => {
    for (let distance = 1; distance < 8; distance += 1) {
      expect(leakWeight('cone', 1, distance + 1)).toBeGreaterThan(leakWeight('cone', 1, distance));
    }
  });

  it('leaves second-register notes at nine to thirteen semitones no worse than slightly disturbed', () => {
    const second = standardFingerings.filter(({ register }) => register === 2);
    for (const vent of alto.vents.filter(({ note }) => note !== null)) {
      for (const fingering of second) {
        const distance = midi(vent.note!) - (midi(fingering.note) - 12);
        if (distance < 9 || distance > 13) continue;
        expect(classAt(2, distance)).toBeLessThanOrEqual(1);
        const { degree } = predictNote(alto, fingering, [placed(`leaks@${vent.id}`, 'moderate')]);
        expect(['none', 'slight'], `${vent.id} for ${fingering.note}`).toContain(degree);
      }
    }
  });

  it('adds small leaks up as the tables do: eight of them cost several times what one does', () => {
    const eight = ['c-small', 'b', 'bis', 'a', 'g', 'fsharp', 'f', 'e'].map((cup) =>
      placed(`leaks@cup.${cup}`, 'slight'),
    );
    for (const [id, note] of [
      ['fg.C4', 'C4'],
      ['fg.Bb3', 'A#3'],
    ] as const) {
      const one = predictLosses(alto, alto.fingering(id), [placed('leaks@cup.g', 'slight')]).first;
      const all = predictLosses(alto, alto.fingering(id), eight).first;
      const published =
        tables.accumulation.eight_small_upper_and_lower_stack[note] /
        tables.accumulation.one_small_at_G[note];
      expect(all / one / published).toBeGreaterThan(0.6);
      expect(all / one / published).toBeLessThan(1.4);
    }
  });

  it('disturbs as the tables say with a register vent held open, and leaves its own register alone', () => {
    for (const [id, name] of [
      ['cup.oct-neck', 'neck pip open'],
      ['cup.oct-body', 'body pip open'],
    ] as const) {
      const { notes } = tables.ventsAndJoint.find(({ vent }) => vent.startsWith(name))!;
      for (const [note, [loss1]] of Object.entries(notes)) {
        const fingering = standardFingerings.find((item) => isSameNote(item.note, note))!;
        const { first } = predictLosses(alto, fingering, [placed(`held-open@${id}`)]);
        expect(first, `${id} for ${note}`).toBeCloseTo(-loss1!, 1);
      }
    }
    expect(predictNote(alto, alto.fingering('fg.A5'), [placed('held-open@cup.oct-neck')]).degree).toBe(
      'none',
    );
    expect(predictNote(alto, alto.fingering('fg.D5'), [placed('held-open@cup.oct-body')]).degree).toBe(
      'none',
    );
  });

  it('counts a leak of strength 1 at the neck pip as the half-leaking pip of the tables, within 1.5 dB', () => {
    const { notes } = tables.ventsAndJoint.find(({ vent }) => vent.startsWith('neck pip half leaking'))!;
    for (const [note, [loss1]] of Object.entries(notes)) {
      const open = tables.ventsAndJoint[0]!.notes[note as 'D4'][0]!;
      const half = lossOfWeight((10 ** (-open / 20) - 1) / 2);
      expect(Math.abs(half + loss1!), note).toBeLessThan(1.5);
    }
  });

  it('raises the low register by an octave when the neck pip stands open', () => {
    // S. Murphy, The Instrumentalist, June 2012: with the neck pip not sealing, first-octave notes come out an octave up.
    // Not Bb3: there the tables give 4.9 dB, a hair under the limit of 5.
    const low = standardFingerings.filter(({ register, id }) => register === 1 && id !== 'fg.Bb3');
    for (const fingering of low) {
      expect(predictNote(alto, fingering, [placed('held-open@cup.oct-neck')]).octaveUp, fingering.note).toBe(
        true,
      );
    }
  });

  it('does nothing to a note whose first open hole lies above the leak', () => {
    expect(speaks(predictNote(alto, alto.fingering('fg.A4'), [placed('leaks@cup.gsharp')]))).toBe(true);
    expect(speaks(predictNote(alto, alto.fingering('fg.G4'), [placed('leaks@cup.gsharp')]))).toBe(false);
  });
});
