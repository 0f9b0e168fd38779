import fc from 'fast-check';
import { Note } from 'tonal';
import { describe, expect, it } from 'vitest';
import { frequency, isSameNote, midi, noteName, parseNote, soundingMidi } from '../../src/mechanism/index.ts';
import { alto } from './support/alto.ts';

describe('notes and sounding pitch', () => {
  it('tunes A4 to 440 Hz', () => {
    // ISO 16:1975, standard tuning frequency.
    expect(frequency(midi('A4'))).toBe(440);
  });

  it('sounds every written note of the alto a major sixth lower, at the frequency that a music-theory library gives', () => {
    // tonal 6.4.3, a general-purpose music-theory library.
    for (const { note } of alto.fingerings) {
      const sounding = soundingMidi(midi(note), alto.transposition.semitones);
      const name = Note.transpose(note, '-6M');
      expect(sounding, note).toBe(Note.midi(name));
      expect(frequency(sounding), note).toBeCloseTo(Note.freq(name)!, 6);
    }
  });

  it('sounds written F sharp 5 as A4', () => {
    expect(noteName(soundingMidi(midi('F#5'), alto.transposition.semitones))).toBe('A4');
  });

  it('reads every spelling that the library writes, and agrees on the pitch', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...'CDEFGAB'),
        fc.constantFrom('', '#', 'b', '##', 'bb'),
        fc.integer({ min: 0, max: 8 }),
        (letter, accidental, octave) => {
          const name = `${letter}${accidental}${octave}`;
          expect(parseNote(name)).toBe(Note.midi(name));
        },
      ),
    );
  });

  it('names every pitch so that it reads back the same', () => {
    fc.assert(
      fc.property(fc.integer({ min: 12, max: 119 }), (number) => {
        expect(parseNote(noteName(number))).toBe(number);
      }),
    );
  });

  it('takes enharmonic spellings, small letters and the printed signs for the same note', () => {
    expect(isSameNote('A#3', 'Bb3')).toBe(true);
    expect(isSameNote('B#3', 'C4')).toBe(true);
    expect(parseNote(' f♯4 ')).toBe(midi('F#4'));
    expect(isSameNote('B3', 'B4')).toBe(false);
  });

  it.each(['', 'H4', 'C', 'C#', '4', 'C4x', 'Cb#4'])('refuses "%s"', (text) => {
    expect(parseNote(text)).toBeNull();
    expect(() => midi(text)).toThrow(RangeError);
    expect(isSameNote(text, text)).toBe(false);
  });
});
