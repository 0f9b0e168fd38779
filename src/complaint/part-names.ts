/** The parts of an instrument by what people call them: the names in its data, whatever the noun ("key", "pad", "cup"). */
import { type Instrument, type Part, type PartSort, partsOfTube } from '../mechanism/index.ts';
import { createExpressions, spellOut } from './expressions.ts';
import { isFor } from './families.ts';
import type { NamedNote } from './note-words.ts';
import type { Level, Vocabulary } from './schema.ts';
import { type Token, tokenise } from './tokens.ts';

/** A piece of a part's name. */
export type NamePiece =
  | { readonly sort: 'note'; readonly length: number; readonly note: NamedNote }
  | { readonly sort: 'level'; readonly length: number; readonly level: Level; readonly word: string }
  | { readonly sort: 'word'; readonly length: number; readonly word: string }
  | { readonly sort: 'noun'; readonly length: number; readonly word: string };

/** Parts that a row of words can mean: those named just so, those that are also called just so, and those whose names say more. */
export type NamedParts = {
  readonly exact: readonly Part[];
  readonly called: readonly Part[];
  readonly wider: readonly Part[];
};

export type PartNames = {
  /** The stems that tell parts apart. */
  readonly words: ReadonlySet<string>;
  /** The piece of a name that begins at this token, or null where none does. */
  readPiece(tokens: readonly Token[], start: number): NamePiece | null;
  /** The parts that these pieces can mean; none where the pieces have no telling word. */
  find(pieces: readonly NamePiece[]): NamedParts;
};

type Entry = { readonly part: Part; readonly words: ReadonlySet<string>; readonly isMain: boolean };
/** Sorts of parts that people name by less than their whole name. */
const SAID_SHORTLY: readonly PartSort[] = ['vent', 'joint', 'bore'];
/** Sorts of parts that a word such as "middle" tells apart by itself ("the middle joint"). */
const TOLD_BY_LEVEL: readonly PartSort[] = ['joint', 'bore'];

type NoteReader = (tokens: readonly Token[], start: number) => NamedNote | null;

/** Lays out the names of all parts. */
export function createPartNames(
  instrument: Instrument,
  vocabulary: Vocabulary,
  readNote: NoteReader,
): PartNames {
  const nouns = new Set(vocabulary.partNouns.flatMap(spellOut).map((row) => row.join(' ')));
  const levels = createExpressions<Level>(new Set());
  for (const level of vocabulary.levels.filter(isFor(instrument.family)))
    for (const words of level.words) levels.add(words, level);
  const same = new Map(
    vocabulary.same.flatMap(({ words, means }) =>
      words.flatMap(spellOut).map((row) => [row[0]!, spellOut(means)[0]![0]!] as const),
    ),
  );
  const plain = new Set(
    [...vocabulary.letterCues, ...vocabulary.prepositions, ...vocabulary.joins]
      .flatMap(spellOut)
      .map((row) => row.join(' ')),
  );
  const telling = new Set<string>();

  function readPiece(tokens: readonly Token[], start: number): NamePiece | null {
    const token = tokens[start];
    if (token === undefined) return null;
    const note = readNote(tokens, start);
    if (note !== null) return { sort: 'note', length: note.length, note };
    const stem = same.get(token.stem) ?? token.stem;
    const level = levels.match(tokens, start);
    if (level !== null) {
      const meant = level.meanings[0]!;
      return { sort: 'level', length: level.length, level: meant, word: meant.inNames ?? stem };
    }
    if (nouns.has(stem)) return { sort: 'noun', length: 1, word: stem };
    return telling.has(stem) ? { sort: 'word', length: 1, word: stem } : null;
  }

  /** The words that tell a name from others; of one that is nothing but a noun ("lever"), that noun. */
  function readName(name: string): Set<string> {
    const tokens = tokenise(name.replace(/\(.*?\)/g, ''));
    const words = new Set<string>();
    const [only] = tokens;
    if (tokens.length === 1 && nouns.has(only!.stem)) return new Set([only!.stem]);
    for (let at = 0; at < tokens.length; ) {
      const token = tokens[at]!;
      const isWord = token.sort !== 'sign' && !nouns.has(token.stem) && !plain.has(token.stem);
      if (isWord && readNote(tokens, at) === null && levels.match(tokens, at) === null) {
        telling.add(same.get(token.stem) ?? token.stem);
      }
      const piece = readPiece(tokens, at);
      if (piece !== null && piece.sort !== 'noun') words.add(wordOf(piece));
      at += piece?.length ?? 1;
    }
    return words;
  }

  const entries = namesOf(instrument).map(
    ({ part, name, isMain }): Entry => ({ part, words: readName(name), isMain }),
  );

  return {
    words: telling,
    readPiece,
    find(pieces) {
      const found = findParts(pieces);
      return isAnybody(found) ? found : findParts(pieces.filter(({ sort }) => sort !== 'level'));
    },
  };

  function findParts(pieces: readonly NamePiece[]): NamedParts {
    const has = (sort: NamePiece['sort']) => pieces.some((piece) => piece.sort === sort);
    const isBare = pieces.every(({ sort }) => sort === 'noun');
    const asked = new Set(
      pieces.flatMap((piece) => (piece.sort === 'noun' && !isBare ? [] : [wordOf(piece)])),
    );
    const hasRegister = pieces.some((piece) => piece.sort === 'level' && piece.level.register !== undefined);
    // "The middle joint": a level and a noun, where a part is called just that.
    const isLevelled = !has('note') && !has('word') && !hasRegister && !isBare;
    if (asked.size === 0 || (isLevelled && !has('noun'))) return NOBODY;
    const fitting = entries.filter(
      ({ part, words }) =>
        [...asked].every((word) => words.has(word)) && (!isLevelled || TOLD_BY_LEVEL.includes(part.sort)),
    );
    const same = fitting.filter(({ words }) => words.size === asked.size);
    const exact = distinct(same.filter(({ isMain }) => isMain));
    const called = distinct(same).filter((part) => !exact.includes(part));
    const isShort = has('note') || (has('noun') && !isBare && !isLevelled);
    const wider = distinct(fitting.filter(({ part }) => isShort && SAID_SHORTLY.includes(part.sort)));
    return { exact, called, wider: wider.filter((part) => !exact.includes(part) && !called.includes(part)) };
  }
}

/** No part at all. */
export const NOBODY: NamedParts = { exact: [], called: [], wider: [] };

/** Whether a name can mean any part. */
export function isAnybody({ exact, called, wider }: NamedParts): boolean {
  return exact.length + called.length + wider.length > 0;
}

function wordOf(piece: NamePiece): string {
  return piece.sort === 'note' ? `note ${piece.note.pitchClass}` : piece.word;
}

function distinct(entries: readonly Entry[]): Part[] {
  return [...new Set(entries.map(({ part }) => part))];
}

function namesOf(instrument: Instrument): { part: Part; name: string; isMain: boolean }[] {
  const { vents, touches, keys, joints, bores, causes, links, tube } = instrument;
  const ofTube = partsOfTube(tube);
  const all = [...vents, ...ofTube, ...joints, ...bores, ...keys, ...touches, ...causes, ...links];
  const main = all.map(({ id, name }) => ({ id, name, isMain: true }));
  const others = all.flatMap(({ id, alsoCalled = [] }) =>
    alsoCalled.map((name) => ({ id, name, isMain: false })),
  );
  return [...main, ...others].map(({ id, name, isMain }) => ({ part: instrument.part(id), name, isMain }));
}
