/** Written and sounding pitch of every instrument, against published lists, a general-purpose library and ISO 16. */
import { Interval, Note } from 'tonal';
import { describe, expect, test } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import { frequency, midi, soundingMidi } from '../../src/mechanism/index.ts';
import published from './published/orchestration.json' with { type: 'json' };

type Row = {
  readonly ids: readonly string[];
  readonly interval: string;
  readonly lowest?: readonly string[];
  readonly from?: string;
  readonly highest?: string;
  readonly sources: readonly string[];
};

const { instruments } = loadContent(new URL('../../flows', import.meta.url).pathname);
const rows: readonly Row[] = published.instruments;
const rowOf = (id: string) => rows.find(({ ids }) => ids.includes(id));

/** ISO 16:1975 sets A4 to 440 Hz; equal temperament divides the octave into twelve steps of equal ratio. */
const iso16 = (semitonesAboveA4: number) => 440 * Math.exp((semitonesAboveA4 * Math.LN2) / 12);

/** The key that an instrument is said to stand in: what sounds when it plays a written C, without the octave. */
const keyOf = (interval: string) => Note.pitchClass(Note.transpose('C5', interval));

describe.each([...instruments.keys()])('%s', (id) => {
  const { instrument } = instruments.get(id)!;
  const { transposition, range, fingerings } = instrument;

  test('is in the published list; add it to published/orchestration.json', () => {
    expect(rowOf(id), `${id} is in no "ids" of published/orchestration.json`).toBeDefined();
    expect(rowOf(id)!.sources.length).toBeGreaterThan(0);
    for (const source of rowOf(id)!.sources) expect(published.sources).toHaveProperty(source);
  });

  test('sounds as far from what is written as the list says, in the key that it is named by', () => {
    const { interval } = rowOf(id)!;
    expect(transposition.semitones).toBe(Interval.semitones(interval));
    expect(transposition.sounds).toBe(keyOf(interval));
  });

  test('begins at the published lowest note and stays within the published range', () => {
    const { lowest, from, highest } = rowOf(id)!;
    if (lowest !== undefined) expect(lowest).toContain(range.lowest);
    else expect(midi(range.lowest)).toBeGreaterThanOrEqual(Note.midi(from!)!);
    if (highest !== undefined) expect(midi(range.highest)).toBeLessThanOrEqual(Note.midi(highest)!);
  });

  test('sounds each of its notes at the pitch and frequency of the library and of ISO 16', () => {
    const { interval } = rowOf(id)!;
    for (const note of [range.lowest, range.highest, ...fingerings.map((fingering) => fingering.note)]) {
      const sounding = soundingMidi(midi(note), transposition.semitones);
      const name = Note.transpose(note, interval);
      expect(sounding, note).toBe(Note.midi(name));
      expect(frequency(sounding), note).toBeCloseTo(Note.freq(name)!, 6);
      expect(frequency(sounding), note).toBeCloseTo(iso16(Note.midi(name)! - Note.midi('A4')!), 6);
    }
  });
});
