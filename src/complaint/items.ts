/** What stands in a text, from left to right: notes and parts, what is said of them, and the words that join them. */
import type { Part } from '../mechanism/index.ts';
import { isArticle } from './letter-words.ts';
import type { DirectionWord, Lexicon, Meaning, Particle } from './lexicon.ts';
import type { NamedNote } from './note-words.ts';
import type { NamedParts, NamePiece } from './part-names.ts';
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
  | { readonly sort: 'said'; readonly answer: Answer | null; readonly sign: Sign | null }
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
    const match = lexicon.expressions.match(tokens, at);
    const named = readNamed(lexicon, tokens, at);
    const isName = named !== null && named.length >= (match?.length ?? 0);
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

type NamedRun = Named & { readonly length: number };

const NOBODY: NamedParts = { exact: [], wider: [] };

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
  const hasParts = parts.exact.length + parts.wider.length > 0;
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
  if (answer !== null || sign !== null) return { sort: 'said', answer, sign };
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

/** Every part that a name can mean, those called just so first. */
export function partsNamed({ parts }: Named): readonly Part[] {
  return parts.exact.length > 0 ? parts.exact : parts.wider;
}
