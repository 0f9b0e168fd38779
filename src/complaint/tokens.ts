/** A text cut into words and signs, with the places where they stand. */
import { stemmer } from 'stemmer';

export type Token = {
  readonly raw: string;
  /** Lower case, straight apostrophes. */
  readonly word: string;
  /** What words of one family have in common; a spelling mistake is mended in it. */
  readonly stem: string;
  readonly from: number;
  readonly to: number;
  readonly sort: 'word' | 'number' | 'sign';
  readonly isCapital: boolean;
  /** White space stands before it. */
  readonly isApart: boolean;
  /** First word after the beginning or after a full stop. */
  readonly isFirst: boolean;
};

const segmenter = new Intl.Segmenter('en', { granularity: 'word' });
const MARKUP = /<[^<>]{0,300}>/g;
const ENDS = /^[.;!?…\n]$/;

/**
 * Cuts a text into words by the Unicode rules (UAX 29). Markup is passed over; offsets are those of the text.
 * @param text any text
 */
export function tokenise(text: string): Token[] {
  const plain = text.replace(MARKUP, (tag) => ' '.repeat(tag.length));
  const hasSmall = /\p{Ll}/u.test(plain);
  const tokens: Token[] = [];
  let isApart = true;
  let isFirst = true;
  for (const { segment, index, isWordLike } of segmenter.segment(plain)) {
    const isBlank = segment.trim() === '';
    if (isBlank && !segment.includes('\n')) {
      isApart = true;
      continue;
    }
    const raw = isBlank ? '\n' : segment;
    const word = straighten(raw);
    const sort = isWordLike !== true ? 'sign' : /^\d+$/.test(word) ? 'number' : 'word';
    tokens.push({
      raw,
      word,
      stem: sort === 'word' ? stemOf(word) : word,
      from: index,
      to: index + segment.length,
      sort,
      isCapital: hasSmall && /^\p{Lu}/u.test(raw),
      isApart: isApart || tokens.length === 0,
      isFirst: isFirst && sort !== 'sign',
    });
    if (sort !== 'sign') isFirst = false;
    if (ENDS.test(raw)) isFirst = true;
    isApart = isBlank;
  }
  return tokens;
}

/** The stem of a lower-case word (Porter 1980); words of three letters or fewer are their own. */
export function stemOf(word: string): string {
  return word.length <= 3 || /[^a-z]/.test(word) ? word : stemmer(word);
}

/** Lower case, compatibility forms as ordinary letters, and one kind of apostrophe. */
export function straighten(raw: string): string {
  return raw.normalize('NFKC').toLowerCase().replaceAll('’', "'").replaceAll('ʼ', "'");
}
