/** What the words of a complaint were taken for, said back to the person. */
import { sayNote } from '../diagnosis/index.ts';
import { noteName } from '../mechanism/index.ts';
import type { Item, Named } from './items.ts';
import { partsNamed } from './items.ts';
import type { Lexicon } from './lexicon.ts';
import type { NoteBook } from './note-book.ts';

/** `from` and `to` are places in the text, `to` not included. */
export type Understood = {
  readonly from: number;
  readonly to: number;
  readonly as: string;
  /** False: understood, but no finding can carry it. */
  readonly hasEffect: boolean;
};

/** The items that mean something, with whether a proposal came of them. */
export function tellUnderstood(
  lexicon: Lexicon,
  book: NoteBook,
  items: readonly Item[],
  used: ReadonlySet<Item>,
): Understood[] {
  return items.flatMap((item) => {
    const as = tell(lexicon, book, item);
    // "Plays" on its own tells nothing that is worth saying back.
    const isIdle = item.sort === 'said' && item.answer?.isVerb === true && !used.has(item);
    if (isIdle) return [];
    return as === null ? [] : [{ from: item.from, to: item.to, as, hasEffect: used.has(item) }];
  });
}

function tell(lexicon: Lexicon, book: NoteBook, item: Item): string | null {
  switch (item.sort) {
    case 'named':
      return tellNamed(lexicon, book, item.named);
    case 'stretch':
      return item.stretch.as;
    case 'said':
      return (item.answer ?? item.sign)!.as;
    case 'story':
      return item.story.as;
    case 'mute':
      return item.mute.as;
    default:
      return null;
  }
}

function tellNamed({ instrument }: Lexicon, book: NoteBook, named: Named): string {
  const { note, level, isSpecial, hasNoun } = named;
  const parts = partsNamed(named).map(({ name }) => name.replace(/ \(.*\)$/, ''));
  if (isSpecial || note === null || (hasNoun && parts.length === 1)) return [...new Set(parts)].join(', or ');
  if (note.number !== null) {
    const name = noteName(note.number);
    return book.fingeringOf(note.number) === null
      ? `${name}, which this instrument does not have`
      : sayNote(instrument, name);
  }
  const { note: number } = book.namedBy(note.pitchClass, level);
  return number === null
    ? 'a note that this instrument does not have'
    : sayNote(instrument, noteName(number));
}
