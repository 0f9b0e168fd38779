/** Note names in a row of words: letter, accidental, octave number, in all usual spellings. */
import { parseNote } from '../mechanism/index.ts';
import type { Vocabulary } from './schema.ts';
import type { Token } from './tokens.ts';

/** A name as read: the pitch class (C = 0), the very note where an octave number was given. */
export type NamedNote = {
  readonly length: number;
  readonly pitchClass: number;
  readonly number: number | null;
  /** Only a letter, and one that is a word too ("a"). */
  readonly isBare: boolean;
};

type Signs = ReadonlyMap<string, '#' | 'b' | ''>;

const JOINED = /^([a-g])(##|#|♯|bb|b|♭)?(\d)?$/;
const PLURAL = /^([a-g])(b)?'?s$/;

/** Reads note names; the words for sharp and flat come from the vocabulary. */
export function createNoteReader({
  accidentals,
}: Vocabulary): (tokens: readonly Token[], start: number) => NamedNote | null {
  const signs: Signs = new Map([
    ...accidentals.sharp.map((word) => [word, '#'] as const),
    ...accidentals.flat.map((word) => [word, 'b'] as const),
    ...accidentals.natural.map((word) => [word, ''] as const),
  ]);
  const worded = new RegExp(
    `^([a-g])(${[...signs.keys()].filter((word) => /^[a-z]{3,}$/.test(word)).join('|')})s?(\\d)?$`,
  );
  return (tokens, start) => readName(tokens, start, signs, worded);
}

function readName(tokens: readonly Token[], start: number, signs: Signs, worded: RegExp): NamedNote | null {
  const token = tokens[start];
  if (token === undefined || token.sort !== 'word') return null;
  const plural = PLURAL.exec(token.word);
  if (plural !== null) return name(plural[1]!, plural[2] ?? '', '', 1, true);
  const inOne = worded.exec(token.word);
  if (inOne !== null) return name(inOne[1]!, signs.get(inOne[2]!)!, inOne[3] ?? '', 1, false);
  const joined = JOINED.exec(token.word);
  if (joined === null) return null;
  const [, letter = '', accidental = '', octave = ''] = joined;
  if (accidental !== '' || octave !== '')
    return name(letter, accidental.replace('♯', '#').replace('♭', 'b'), octave, 1, false);
  return readAccidental(tokens, start, letter, signs);
}

/** The accidental that follows a letter: a sign, or a word with or without a hyphen; then perhaps an octave number. */
function readAccidental(tokens: readonly Token[], start: number, letter: string, signs: Signs): NamedNote {
  let at = start + 1;
  let accidental = '';
  const hyphen = tokens[at];
  if (hyphen?.word === '-' && !hyphen.isApart && signs.has(singular(tokens[at + 1]).replace(/\d$/, '')))
    at += 1;
  const [, sign = '', attached = ''] = /^(.*?)(\d?)$/.exec(singular(tokens[at])) ?? [];
  const isFlatLetter = sign === 'b' && tokens[at]!.isApart;
  if (signs.has(sign) && !isFlatLetter) {
    accidental = signs.get(sign)!;
    at += 1;
    if (sign === '#' && tokens[at]?.word === '#' && !tokens[at]!.isApart) {
      accidental = '##';
      at += 1;
    }
    if (attached !== '') return name(letter, accidental, attached, at - start, false);
  } else {
    at = start + 1;
  }
  const number = tokens[at];
  if (number?.sort === 'number' && number.word.length === 1 && !number.isApart)
    return name(letter, accidental, number.word, at + 1 - start, false);
  return name(letter, accidental, '', at - start, at === start + 1);
}

function singular(token: Token | undefined): string {
  const word = token?.word ?? '';
  return word.length > 3 && word.endsWith('s') ? word.slice(0, -1) : word;
}

function name(
  letter: string,
  accidental: string,
  octave: string,
  length: number,
  isBare: boolean,
): NamedNote {
  const number = parseNote(`${letter}${accidental}${octave === '' ? '4' : octave}`)!;
  return { length, pitchClass: number % 12, number: octave === '' ? null : number, isBare };
}
