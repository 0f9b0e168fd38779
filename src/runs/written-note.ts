/** A note as it is written and as it sounds. */
import { frequency, midi, noteName, soundingMidi } from '../mechanism/index.ts';
import type { RunBook } from './book.ts';
import type { ToneView, WrittenNoteView } from './view.ts';

/** The note of a fingering on its staff, with the tone to compare with; `name` is what the page calls it. */
export function viewWrittenNote(
  { instrument, staves }: RunBook,
  note: string,
  name: string,
): WrittenNoteView {
  return { note, name, staff: staves.find(instrument, note), tone: toneOf(instrument, note) };
}

/**
 * What sounds when a note is played, from the transposition of the instrument.
 *
 * @param note written pitch
 * @throws RangeError when it is no note name
 */
export function toneOf(
  { transposition }: { readonly transposition: { readonly semitones: number } },
  note: string,
): ToneView {
  const number = soundingMidi(midi(note), transposition.semitones);
  const sounding = noteName(number);
  const hertz = frequency(number);
  return {
    sounding,
    frequency: Number(hertz.toFixed(2)),
    words: `It sounds as ${sounding} does on a piano: ${hertz.toFixed(1)} Hz when A is tuned to 440 Hz.`,
  };
}
