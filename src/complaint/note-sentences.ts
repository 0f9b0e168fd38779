/** Notes said in a sentence: "Low C sharp, low B and low B flat do not speak". */
import { sayNote } from '../diagnosis/index.ts';
import { type Fingering, type Instrument, midi, noteName } from '../mechanism/index.ts';
import type { NoteClaim } from './claims.ts';
import type { NoteBook } from './note-book.ts';
import { type Outcome, shiftedNote } from './outcomes.ts';
import type { Vocabulary } from './schema.ts';

/** So many neighbouring notes are said as a run rather than one by one. */
const RUN = 4;

type Sentences = Vocabulary['sentences'];

/** A fingering as a player says it, without the exact name: "low F sharp", "low F sharp played as side F sharp". */
export function sayFingering(instrument: Instrument, { note, name, kind }: Fingering): string {
  const said = sayNote(instrument, note).replace(/ \(.*\)$/, '');
  return name === undefined || kind === 'standard' ? said : `${said} played as ${name}`;
}

/**
 * The sentence for the tap: that these notes, low to high, answer so.
 * @param covers named notes, every note, or all of which nothing else was said
 */
export function sayOutcome(
  instrument: Instrument,
  book: NoteBook,
  { outcome, fingerings, covers }: Pick<NoteClaim, 'outcome' | 'fingerings' | 'covers'>,
  sentences: Sentences,
): string {
  const names = fingerings.map((fingering) => sayFingering(instrument, fingering));
  const isLong = fingerings.length >= RUN;
  const form =
    covers !== 'named' && isLong
      ? covers
      : isLong && isRun(book, fingerings)
        ? 'run'
        : names.length === 1
          ? 'one'
          : 'many';
  const heard =
    outcome.heard === null ? null : sayHeard(instrument, book, heardAt(instrument, fingerings[0]!, outcome)!);
  const sentence = (sentences[sentenceOf(outcome)] ?? sentences.wrong)[form];
  return capitalise(
    fill(sentence, { notes: listNames(names), low: names[0]!, high: names.at(-1)!, heard: heard ?? '' }),
  );
}

function sentenceOf({ answered, octave, register, heard }: Outcome): keyof Sentences {
  if (heard !== null) return 'named';
  if (register !== null) return register === 'up' ? 'registerUp' : 'registerDown';
  if (octave === null) return answered;
  return octave === 'up' ? 'octaveUp' : 'octaveDown';
}

function listNames(names: readonly string[]): string {
  return names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}

function sayHeard(instrument: Instrument, book: NoteBook, note: string): string {
  const fingering = book.fingeringOf(midi(note));
  return fingering === null ? noteName(midi(note)) : sayFingering(instrument, fingering);
}

/** The note that is heard instead of a fingered one: an octave or a register off, or the one of the name that is nearest. */
export function heardAt(instrument: Instrument, fingering: Fingering, outcome: Outcome): string | null {
  const { heard } = outcome;
  const number = midi(fingering.note);
  const shifted = shiftedNote(instrument, fingering, outcome);
  if (shifted !== null) return noteName(shifted);
  if (heard === null) return null;
  if (heard.number !== null) return noteName(heard.number);
  const up = (heard.pitchClass - number + 120) % 12;
  return noteName(up <= 6 ? number + up : number + up - 12);
}

export function capitalise(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Puts words into `{{…}}`. @throws RangeError for a word that is not given. */
export function fill(sentence: string, words: Readonly<Record<string, string>>): string {
  return sentence.replace(/\{\{(\w+)\}\}/g, (_, word: string) => {
    const value = words[word];
    if (value === undefined) throw new RangeError(`"${sentence}" uses {{${word}}}, which is not known here`);
    return value;
  });
}

function isRun(book: NoteBook, fingerings: readonly Fingering[]): boolean {
  const first = book.standard.indexOf(fingerings[0]!);
  return first !== -1 && fingerings.every((fingering, index) => book.standard[first + index] === fingering);
}
