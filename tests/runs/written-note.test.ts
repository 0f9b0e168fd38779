import { Note } from 'tonal';
import { describe, expect, test } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import { toneOf } from '../../src/runs/written-note.ts';
import { flowsFolder } from '../support/runs-bench.ts';

const { instruments } = loadContent(flowsFolder);
const { instrument: alto } = instruments.get('alto-saxophone')!;

describe('the tone to compare with', () => {
  test.each([...new Set(alto.fingerings.map(({ note }) => note))])(
    'of written %s on the alto is the one that a music-theory library gives a major sixth below',
    (note) => {
      // tonal 6.4.3, a general-purpose music-theory library; equal temperament, A4 = 440 Hz.
      const sounding = Note.transpose(note, '-6M');
      const tone = toneOf(alto, note);
      expect(Note.midi(tone.sounding)).toBe(Note.midi(sounding));
      expect(tone.frequency).toBeCloseTo(Note.freq(sounding)!, 2);
      expect(tone.words).toContain(` ${tone.sounding} `);
      expect(tone.words).toContain(`${Note.freq(sounding)!.toFixed(1)} Hz`);
    },
  );

  test('is 440 Hz where A4 sounds (ISO 16:1975, standard tuning frequency)', () => {
    expect(toneOf(alto, 'F#5')).toMatchObject({ sounding: 'A4', frequency: 440 });
    expect(toneOf({ transposition: { semitones: 0 } }, 'A4')).toMatchObject({ frequency: 440 });
  });

  test('follows the transposition of the instrument: an octave lower sounds at half the frequency', () => {
    for (const { note } of alto.fingerings) {
      const lower = toneOf({ transposition: { semitones: alto.transposition.semitones - 12 } }, note);
      expect(lower.frequency).toBeCloseTo(toneOf(alto, note).frequency / 2, 1);
    }
  });

  test('is told for every note of every instrument', () => {
    for (const { instrument } of instruments.values())
      for (const { note } of instrument.fingerings)
        expect(toneOf(instrument, note).frequency, `${instrument.id} ${note}`).toBeGreaterThan(30);
  });
});
