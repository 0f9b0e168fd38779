/** What stands in a text, from left to right: notes and parts, what is said of them, and the words that join them. */
import type { Part } from '../mechanism/index.ts';
import type { Match } from './expressions.ts';
import { isArticle } from './letter-words.ts';
import type { DirectionWord, Lexicon, Meaning, Particle } from './lexicon.ts';
import type { NamedNote } from './note-words.ts';
import { isAnybody, type NamedParts, type NamePiece, NOBODY } from './part-names.ts';
import type { Answer, Level, Mute, Sign, Story, Stretch } from './schema.ts';
import type { Token } from './tokens.ts';

/** Something that can be at fault or sound: a note name, a part, or words that can mean either ("G sharp"). */
export type Named = {
  readonly note: NamedNote | null;
  readonly level: Level | null;
  readonly parts: NamedParts;
  /** A word for a part stands with it ("G sharp key"). */
  readonly hasNoun: boolean;
  /** More than a note and its level: "side B flat", "octave key". */
  readonly isSpecial: boolean;
};

type What =
  | { readonly sort: 'named'; readonly named: Named }
  | { readonly sort: 'stretch'; readonly stretch: Stretch }
  /** Said of notes or parts; `story`: what the same words tell of what went before. */
  | {
      readonly sort: 'said';
      readonly answer: Answer | null;
      readonly sign: Sign | null;
      readonly story: Story | null;
    }
  | { readonly sort: 'story'; readonly story: Story }
  | { readonly sort: 'mute'; readonly mute: Mute }
  | { readonly sort: 'level'; readonly level: Level }
  | { readonly sort: 'direction'; readonly which: DirectionWord }
  | { readonly sort: 'particle'; readonly particle: Particle }
  | { readonly sort: 'comma' | 'stop' | 'dash' | 'plain' | 'unknown' };

export type Item = What & { readonly from: number; readonly to: number; readonly raw: string };

/** Reads the tokens into items; the longest reading at each place wins. */
export function readItems(lexicon: Lexicon, tokens: readonly Token[]): Item[] {
  const items: Item[] = [];
  for (let at = 0; at < tokens.length; ) {
    const expression = lexicon.expressions.match(tokens, at);
    const match =
      expression === null || isCutShort(lexicon, tokens, at, expression.length) ? null : expression;
    const named = readNamed(lexicon, tokens, at);
    const isName = named !== null && named.length >= (match?.length ?? 0) && !isStoryWord(named, match);
    const length = isName ? named.length : (match?.length ?? 1);
    const what: What = isName
      ? sayNamed(lexicon, tokens, at, named)
      : match !== null
        ? sayMeaning(match.meanings)
        : readSign(lexicon, tokens[at]!);
    const last = tokens[at + length - 1]!;
    const raw = tokens
      .slice(at, at + length)
      .map((token) => token.raw)
      .join(' ');
    items.push({ ...what, from: tokens[at]!.from, to: last.to, raw });
    at += length;
  }
  return items;
}

/** "The low B": the name of a note begins within the expression ("the low", as in "the lows") and goes on beyond it. */
function isCutShort(lexicon: Lexicon, tokens: readonly Token[], start: number, length: number): boolean {
  return tokens.slice(start + 1, start + length).some((_, offset) => {
    const inner = readNamed(lexicon, tokens, start + 1 + offset);
    return inner !== null && inner.note !== null && 1 + offset + inner.length > length;
  });
}

type NamedRun = Named & { readonly length: number };

/** "Water" stands in the name of the water key, and yet tells a story where no word for a part is with it. */
function isStoryWord({ length, note, hasNoun }: NamedRun, match: Match<Meaning> | null): boolean {
  const isBareWord = length === 1 && note === null && !hasNoun;
  return isBareWord && match?.meanings.some(({ sort }) => sort === 'story') === true;
}

/** The longest run of words that names a note or a part, beginning here. */
function readNamed(lexicon: Lexicon, tokens: readonly Token[], start: number): NamedRun | null {
  const pieces: NamePiece[] = [];
  let best: NamedRun | null = null;
  for (let at = start; at < tokens.length; ) {
    if (at > start && tokens[at]!.word === '-' && !tokens[at]!.isApart) at += 1;
    const piece = lexicon.parts.readPiece(tokens, at);
    if (piece === null) break;
    if (piece.sort === 'note') {
      if (pieces.some(({ sort }) => sort === 'note') || isArticle(lexicon, tokens, at, piece.note)) break;
    }
    pieces.push(piece);
    // "Pad fell out": a noun with which an expression begins counts for the name and stays with the expression.
    if (piece.sort === 'noun' && (lexicon.expressions.match(tokens, at)?.length ?? 0) > 1) {
      best = nameOf(lexicon, pieces, at - start) ?? best;
      break;
    }
    at += piece.length;
    best = nameOf(lexicon, pieces, at - start) ?? best;
  }
  return best === null ? null : withExactNote(lexicon, tokens, start, best);
}

/** "upper C (C5)": what stands in brackets says which of the notes of that name is meant. */
function withExactNote(lexicon: Lexicon, tokens: readonly Token[], start: number, run: NamedRun): NamedRun {
  const opening = start + run.length;
  if (run.note === null || run.note.number !== null || tokens[opening]?.raw !== '(') return run;
  const exact = lexicon.readNote(tokens, opening + 1);
  if (exact === null || exact.number === null || exact.pitchClass !== run.note.pitchClass) return run;
  const closing = opening + 1 + exact.length;
  if (tokens[closing]?.raw !== ')') return run;
  return { ...run, note: exact, level: null, length: closing + 1 - start };
}

function nameOf(lexicon: Lexicon, pieces: readonly NamePiece[], length: number): NamedRun | null {
  const note = pieces.find((piece) => piece.sort === 'note')?.note ?? null;
  const levels = pieces.filter((piece) => piece.sort === 'level');
  const hasWords = pieces.some(({ sort }) => sort === 'word');
  const parts = lexicon.parts.find(pieces);
  const hasParts = isAnybody(parts);
  if (!hasParts && (note === null || hasWords)) return null;
  return {
    note,
    level: levels[0]?.level ?? null,
    parts: hasParts ? parts : NOBODY,
    hasNoun: pieces.some(({ sort }) => sort === 'noun'),
    isSpecial: hasWords || note === null,
    length,
  };
}

/** A note name with the instrument's own name after it ("E flat alto") is the instrument's key. */
function sayNamed(lexicon: Lexicon, tokens: readonly Token[], at: number, named: NamedRun): What {
  const next = lexicon.expressions.match(tokens, at + named.length);
  const isInstrument =
    named.note !== null &&
    named.level === null &&
    !named.hasNoun &&
    next?.meanings.some((meaning) => meaning.sort === 'particle' && meaning.particle === 'instruments');
  return isInstrument === true ? { sort: 'plain' } : { sort: 'named', named };
}

/** Words that can be said of notes and of parts keep both meanings; otherwise the first meaning counts. */
function sayMeaning(meanings: readonly Meaning[]): What {
  const answer = meanings.find((meaning) => meaning.sort === 'answer')?.answer ?? null;
  const sign = meanings.find((meaning) => meaning.sort === 'sign')?.sign ?? null;
  const story = meanings.find((meaning) => meaning.sort === 'story')?.story ?? null;
  if (answer !== null || sign !== null) return { sort: 'said', answer, sign, story };
  return (
    meanings.find((meaning) => meaning.sort !== 'answer' && meaning.sort !== 'sign') ?? { sort: 'plain' }
  );
}

function readSign(lexicon: Lexicon, token: Token): What {
  const { raw, sort } = token;
  if (/^[.;!?…\n]$/.test(raw)) return { sort: 'stop' };
  if (/^[,()]$/.test(raw)) return { sort: 'comma' };
  if (/^[-–—]$/.test(raw)) return { sort: 'dash' };
  if (/^[/&+]$/.test(raw)) return { sort: 'particle', particle: 'joins' };
  if (sort !== 'word' || lexicon.isKnown(token)) return { sort: 'plain' };
  return { sort: 'unknown' };
}

/** The parts that a name can mean: those named just so, else those also called so, else those whose names say more. */
export function partsNamed({ parts: { exact, called, wider } }: Named): readonly Part[] {
  return [exact, called, wider].find((parts) => parts.length > 0) ?? [];
}
