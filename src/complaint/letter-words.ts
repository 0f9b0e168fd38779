/** "A" the note and "a" the word. */
import type { Lexicon, Meaning } from './lexicon.ts';
import type { NamedNote } from './note-words.ts';
import type { Token } from './tokens.ts';

/**
 * Whether a note's letter is only a word here ("a hard reed", "a flat reed"), by what stands before and after it. In doubt
 * it is a word: a note that is missed is asked for in the play test, a wrong one misleads.
 */
export function isArticle(
  lexicon: Lexicon,
  tokens: readonly Token[],
  start: number,
  note: NamedNote,
): boolean {
  const token = tokens[start]!;
  if (!lexicon.letterWords.has(token.word) || note.number !== null) return false;
  if (isCued(lexicon, tokens, start)) return false;
  const next = tokens[start + note.length];
  const meanings =
    next === undefined ? [] : (lexicon.expressions.match(tokens, start + note.length)?.meanings ?? []);
  if (!note.isBare)
    return !(next === undefined || next.sort === 'sign' || endsName(meanings, token.isCapital));
  if (token.isCapital && !token.isFirst) return false;
  if (next === undefined) return true;
  return !(isPredicate(meanings, next) || isListed(lexicon, tokens, start + 1));
}

/** Words such as "the" and "low" that no article follows; or a note and a joining word before it. */
function isCued(lexicon: Lexicon, tokens: readonly Token[], start: number): boolean {
  const before = tokens[start - 1];
  if (before === undefined) return false;
  const meanings = lexicon.expressions.match([before], 0)?.meanings ?? [];
  if (meanings.some((meaning) => meaning.sort === 'level' || isParticle(meaning, ['letterCues'])))
    return true;
  const isJoin = before.word === '/' || meanings.some((meaning) => isParticle(meaning, ['joins']));
  const other = tokens[start - 2];
  return (
    isJoin &&
    other !== undefined &&
    lexicon.readNote(tokens, start - 2) !== null &&
    !lexicon.letterWords.has(other.word)
  );
}

/** "a, b and c": the letter is the first of a list of notes. */
function isListed(lexicon: Lexicon, tokens: readonly Token[], at: number): boolean {
  const join = tokens[at];
  if (join === undefined) return false;
  const meanings = lexicon.expressions.match([join], 0)?.meanings ?? [];
  const isJoin = /^[,/&-]$/.test(join.word) || meanings.some((meaning) => isParticle(meaning, ['joins']));
  const other = tokens[at + 1];
  return (
    isJoin &&
    other !== undefined &&
    lexicon.readNote(tokens, at + 1) !== null &&
    !lexicon.letterWords.has(other.word)
  );
}

/** What can follow a note with its accidental, but not an article with "flat" or "sharp". */
function endsName(meanings: readonly Meaning[], isCapital: boolean): boolean {
  return meanings.some(
    (meaning) =>
      meaning.sort === 'direction' ||
      isParticle(meaning, ['joins', 'breaks', 'auxiliaries', 'negations', 'prepositions']) ||
      (isCapital && (meaning.sort === 'answer' || meaning.sort === 'sign')),
  );
}

/** A verb in the third person, "is", "won't"; or a word with a vowel first, before which the article would be "an". */
function isPredicate(meanings: readonly Meaning[], next: Token): boolean {
  if (next.sort === 'word' && /^[aeio]/.test(next.word) && meanings.length > 0) return true;
  return meanings.some(
    (meaning) =>
      isParticle(meaning, ['auxiliaries', 'negations']) ||
      ((meaning.sort === 'answer' || meaning.sort === 'sign') && next.word.endsWith('s')),
  );
}

function isParticle(meaning: Meaning, particles: readonly string[]): boolean {
  return meaning.sort === 'particle' && particles.includes(meaning.particle);
}
