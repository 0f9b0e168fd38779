/** Into which note a note breaks: an octave or a twelfth up, on brass the neighbouring partial of the same tube. */
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import { type Instrument, lowerRegister, midi, nextRegister, noteName } from '../../src/mechanism/index.ts';
import charts from './published/brass-charts.json' with { type: 'json' };
import { fingeringWith, partialOf } from './support/brass.ts';

const { instruments } = loadContent(new URL('../../flows', import.meta.url).pathname);
const instrumentOf = (id: string): Instrument => instruments.get(id)!.instrument;

/**
 * The harmonic series on C as two pages name it: "C(1) C(2) G(3) C(4) E(5) G(6) Bb(7) C(8)" (ABRSM forum, thread 30308, May
 * 2008, http://www.abrsm.org/forum/lofiversion/index.php/t30308.html), and the second, third and fourth partial a fifth and a
 * fourth apart (Harmonic series (music), http://fact-index.com/h/ha/harmonic_series__music_.html).
 */
const SERIES = ['C3', 'C4', 'G4', 'C5', 'E5', 'G5', 'Bb5', 'C6'];

describe('a note of a brass instrument that fails upward', () => {
  it('climbs the published harmonic series, and falls back down it', () => {
    const trumpet = instrumentOf('trumpet');
    const open = SERIES.slice(1, 6).map((note) => fingeringWith(trumpet, note, '0'));
    expect(open.map((one) => noteName(nextRegister(trumpet, one)))).toEqual(SERIES.slice(2, 7));
    expect(open.map((one) => noteName(lowerRegister(trumpet, one)))).toEqual(SERIES.slice(0, 5));
  });

  // Sources stand beside each table in published/brass-charts.json.
  it.each([
    ['trumpet', charts.trumpet.rows],
    ['trombone', charts.trombone.rows.map((row) => ({ ...row, fingers: '0' }))],
    ['double-horn', charts.horn.rows],
  ] as const)(
    'lands on the note that the chart of the %s gives for the same fingers on the partial above',
    (id, rows) => {
      const instrument = instrumentOf(id);
      type Row = { note: string; fingers: string; partial: number; position?: number };
      const row = rows as readonly Row[];
      const pairs = row.flatMap((one) =>
        row
          .filter(
            ({ fingers, partial, position }) =>
              fingers === one.fingers && position === one.position && partial === one.partial + 1,
          )
          .map((above) => ({ one, above })),
      );
      expect(pairs.length).toBeGreaterThan(5);
      for (const { one, above } of pairs) {
        const fingering = fingeringWith(instrument, one.note, one.fingers, one.position);
        expect([one.note, noteName(nextRegister(instrument, fingering))]).toEqual([
          one.note,
          noteName(midi(above.note)),
        ]);
        const upper = fingeringWith(instrument, above.note, above.fingers, above.position);
        expect(lowerRegister(instrument, upper)).toBe(midi(one.note));
      }
    },
  );

  it('is never further off than a partial of the series is, on any brass instrument with any fingers', () => {
    for (const { instrument } of instruments.values()) {
      if (instrument.tube === null) continue;
      for (const fingering of instrument.fingerings) {
        const step = nextRegister(instrument, fingering) - midi(fingering.note);
        const partial = partialOf(instrument, fingering)!;
        expect([fingering.id, step]).toEqual([
          fingering.id,
          Math.round(12 * Math.log2((partial + 1) / partial)),
        ]);
      }
    }
  });
});

it('on woodwinds is the note that the column of air overblows to', () => {
  const up = (id: string, note: string) => {
    const instrument = instrumentOf(id);
    const fingering = instrument.fingerings.find((one) => one.kind === 'standard' && one.note === note)!;
    return noteName(nextRegister(instrument, fingering));
  };
  expect(up('alto-saxophone', 'D4')).toBe('D5');
  expect(up('flute', 'D4')).toBe('D5');
  // Its register key raises a clarinet's note by a twelfth (Woodwind Fingering Guide, http://wfg.woodwind.org/clarinet/cl_fing.html).
  expect(up('bb-clarinet', 'E3')).toBe('B4');
});
