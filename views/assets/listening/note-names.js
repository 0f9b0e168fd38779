/** Notes by their written names, so many semitones apart. */

const letters = new Map([
  ['C', 0],
  ['D', 2],
  ['E', 4],
  ['F', 5],
  ['G', 7],
  ['A', 9],
  ['B', 11],
]);
/** One name for each of the twelve notes, as a band musician expects to read it. */
const names = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'G#', 'A', 'Bb', 'B'];

/**
 * @param {string} note such as C#4 or Bb3
 * @param {number} semitones up, or down where it is negative
 * @returns {string}
 * @throws {RangeError} when the text is no note name
 */
export function noteAbove(note, semitones) {
  const [, letter = '', accidental = '', octave = ''] = /^([A-G])(#|b|)(-?\d)$/.exec(note) ?? [];
  const step = letters.get(letter);
  if (step === undefined) throw new RangeError(`"${note}" is no note name.`);
  const shift = accidental === '#' ? 1 : accidental === 'b' ? -1 : 0;
  const number = 12 * Number(octave) + step + shift + semitones;
  return `${names[((number % 12) + 12) % 12]}${Math.floor(number / 12)}`;
}
