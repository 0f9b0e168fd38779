/** Putting names into the sentences of the data files, and saying notes the way players do. */
import { type Instrument, midi, noteName } from '../mechanism/index.ts';

const PLACEHOLDER = /\{\{\s*([A-Za-z]+)\s*\}\}/g;

/**
 * Fills `{{word}}` places of a sentence. The first letter of the result is made a capital, because a name may begin it.
 * @throws RangeError that names the word when the part has no such thing, and lists the words that can be used.
 */
export function fillIn(sentence: string, words: Readonly<Record<string, string | undefined>>): string {
  const filled = sentence.replace(PLACEHOLDER, (_, word: string) => {
    const value = words[word];
    if (value === undefined) {
      const known = Object.keys(words).filter((name) => words[name] !== undefined);
      throw new RangeError(
        `"${sentence}" uses {{${word}}}, which is not known here; known: ${known.join(', ')}`,
      );
    }
    return value;
  });
  return filled.charAt(0).toUpperCase() + filled.slice(1);
}

/** "the A, the B and the C". */
export function listNames(names: readonly string[]): string {
  const named = names.map((name) => `the ${name}`);
  return named.length < 2 ? (named[0] ?? '') : `${named.slice(0, -1).join(', ')} and ${named.at(-1)}`;
}

const ACCIDENTALS: Readonly<Record<string, string>> = { '#': ' sharp', b: ' flat' };

/** What notes of one letter name are called, by how many of them an instrument has. */
const LEVELS: Readonly<Record<number, readonly string[]>> = {
  2: ['low', 'high'],
  3: ['low', 'middle', 'high'],
  4: ['low', 'middle', 'upper', 'high'],
};

/**
 * A written note as a player says it, with its exact name: "low C sharp (C#4)". A letter name that the instrument has
 * twice is low and high, one that it has three times low, middle and high, four times low, middle, upper and high.
 * @throws RangeError when the text is no note name.
 */
export function sayNote(instrument: Instrument, note: string): string {
  const number = midi(note);
  const name = noteName(number);
  const letter = name.charAt(0);
  const accidental = ACCIDENTALS[name.charAt(1)] ?? '';
  const all: number[] = [];
  for (let octave = midi(instrument.range.lowest); octave <= midi(instrument.range.highest); octave += 1) {
    if ((octave - number) % 12 === 0) all.push(octave);
  }
  const place = all.indexOf(number);
  const level = LEVELS[all.length]?.[place];
  return `${level === undefined ? '' : `${level} `}${letter}${accidental} (${name})`;
}
