import { z } from 'zod';

const LETTERS: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
const ACCIDENTALS: Readonly<Record<string, number>> = { '': 0, '#': 1, '##': 2, b: -1, bb: -2 };
const NOTE_PATTERN = /^([A-Ga-g])(##|#|bb|b|)(-?\d)$/;

/** The spellings a band musician expects to read: one name for each of the twelve notes. */
const SPELLINGS = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'G#', 'A', 'Bb', 'B'] as const;

/** Tuning pitch in hertz. Source: ISO 16:1975, standard tuning frequency. */
export const TUNING_FREQUENCY = 440;
const TUNING_MIDI = 69;

/** A note as written in the data: letter, optional accidental (# or b), octave in scientific pitch notation. */
export const NoteName = z
  .string()
  .regex(NOTE_PATTERN, 'a note is a letter, an optional # or b, and an octave, for example Bb3 or C#4');
export type NoteName = z.infer<typeof NoteName>;

/**
 * Reads a note name in any enharmonic spelling ("A#3" as well as "Bb3").
 * @returns the MIDI number of the written note (C4 = 60), or null when the text is no note name.
 */
export function parseNote(text: string): number | null {
  const note = readNote(text);
  if (note === null) return null;
  return 12 * (note.octave + 1) + LETTERS[note.letter]! + ACCIDENTALS[note.accidental]!;
}

/** A note as it is spelled: a capital letter, its accidental ('', '#', '##', 'b' or 'bb') and its octave. */
export type SpelledNote = { readonly letter: string; readonly accidental: string; readonly octave: number };

/** Takes a note name apart, spelled as it is; null when the text is no note name. */
export function readNote(text: string): SpelledNote | null {
  const match = NOTE_PATTERN.exec(text.trim().replace('♯', '#').replace('♭', 'b'));
  if (match === null) return null;
  const [, letter = '', accidental = '', octave = ''] = match;
  return { letter: letter.toUpperCase(), accidental, octave: Number(octave) };
}

/**
 * The MIDI number of a note name that is known to be valid.
 * @throws RangeError when the text is no note name.
 */
export function midi(name: string): number {
  const number = parseNote(name);
  if (number === null) throw new RangeError(`"${name}" is not a note name such as Bb3 or C#4`);
  return number;
}

/** The usual spelling of a MIDI number, for example 58 gives "Bb3". */
export function noteName(number: number): string {
  const octave = Math.floor(number / 12) - 1;
  return `${SPELLINGS[((number % 12) + 12) % 12]}${octave}`;
}

/** Whether two note names mean the same pitch, whatever their spelling. */
export function isSameNote(one: string, other: string): boolean {
  const first = parseNote(one);
  return first !== null && first === parseNote(other);
}

/**
 * The MIDI number that sounds when a note is written for a transposing instrument.
 * @param written MIDI number as written. @param semitones from written to sounding (-9 for an alto saxophone).
 */
export function soundingMidi(written: number, semitones: number): number {
  return written + semitones;
}

/** Frequency in hertz of a sounding MIDI number in equal temperament, A4 = 440 Hz (ISO 16:1975). */
export function frequency(sounding: number): number {
  return TUNING_FREQUENCY * 2 ** ((sounding - TUNING_MIDI) / 12);
}
