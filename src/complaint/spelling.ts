/** Spelling mistakes: a word that is not known is taken for the one known word that is near enough. */
import measureDistance from 'damerau-levenshtein';
import type { Token } from './tokens.ts';

/** Letters a stem must have for one slip, and for two, to be forgiven. */
export type Tolerance = { readonly oneSlip: number; readonly twoSlips: number };

/**
 * Mends the stems of unknown words. A slip is a letter too many, too few, wrong, or two changed over (Damerau 1964). The
 * first letter must be right, short words must be right altogether, and where two known words are equally near none is
 * taken.
 * @param isKnown whether a word is left as it is @param stems the known stems
 */
export function mendSpelling(
  tokens: readonly Token[],
  isKnown: (token: Token) => boolean,
  stems: readonly string[],
  tolerance: Tolerance,
): Token[] {
  const mended = new Map<string, string | null>();
  return tokens.map((token) => {
    if (token.sort !== 'word' || isKnown(token)) return token;
    if (!mended.has(token.word)) mended.set(token.word, findNear(token, stems, tolerance));
    const stem = mended.get(token.word) ?? null;
    return stem === null ? token : { ...token, stem };
  });
}

function findNear({ stem, word }: Token, stems: readonly string[], tolerance: Tolerance): string | null {
  const slips = word.length >= tolerance.twoSlips ? 2 : word.length >= tolerance.oneSlip ? 1 : 0;
  if (slips === 0) return null;
  let best = 1;
  let found: string | null = null;
  for (const known of stems) {
    if (known.length < 4 || known[0] !== stem[0] || Math.abs(known.length - stem.length) > slips) continue;
    const { steps, relative } = measureDistance(stem, known);
    if (steps > slips) continue;
    if (relative < best) {
      best = relative;
      found = known;
    } else if (relative === best) {
      found = null;
    }
  }
  return found;
}
