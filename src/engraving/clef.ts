/** The clefs, and where a written note stands under each of them. */
import { type Clef, readNote, type SpelledNote } from '../mechanism/index.ts';

const LETTERS = 'CDEFGAB';

/** Lines and spaces of a staff are counted in steps from its bottom line, 0; its top line is 8. */
export const TOP_LINE = 8;

/** The sign of each clef, the line that it marks (from the bottom, from 1), and the note of that line. Common music notation. */
export const CLEFS = {
  treble: { sign: 'G', line: 2, marks: 'G4' },
  bass: { sign: 'F', line: 4, marks: 'F3' },
  alto: { sign: 'C', line: 3, marks: 'C4' },
  tenor: { sign: 'C', line: 4, marks: 'C4' },
} as const satisfies Record<Clef, { sign: string; line: number; marks: string }>;

/**
 * How many steps a note stands above the bottom line of the staff; negative below it. Accidentals move no note.
 * @throws RangeError when the text is no note name
 */
export function staffSteps(clef: Clef, note: string): number {
  const { line, marks } = CLEFS[clef];
  return diatonic(spelled(note)) - diatonic(spelled(marks)) + 2 * (line - 1);
}

/**
 * A note name taken apart.
 * @throws RangeError when the text is no note name
 */
export function spelled(note: string): SpelledNote {
  const read = readNote(note);
  if (read === null) throw new RangeError(`"${note}" is not a note name such as Bb3 or C#4`);
  return read;
}

function diatonic({ letter, octave }: SpelledNote): number {
  return 7 * octave + LETTERS.indexOf(letter);
}
