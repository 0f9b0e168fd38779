/** What was made of the words of a complaint, for the page on which somebody can still do something about it. */
import { readComplaint } from '../complaint/index.ts';
import type { FlowStep } from '../flow/index.ts';
import type { RunBook } from './book.ts';
import type { RunState } from './run-state.ts';
import type { ReadingView } from './view.ts';

type Piece = ReadingView['words'][number];

/**
 * The reading of a run's complaint: where it is to be confirmed, and on the first page of a run whose complaint gave nothing to
 * confirm. Null everywhere else, and where nothing was said.
 */
export function viewReading(book: RunBook, state: RunState, step: FlowStep): ReadingView | null {
  const { complaint, proposals, head } = state;
  const { vocabulary } = book.content;
  const isShown = step.kind === 'proposals' || (proposals.length === 0 && head === 0);
  if (complaint === null || vocabulary === null || !isShown) return null;
  const { understood, missed, leftOver } = readComplaint(book.instrument, book.model, vocabulary, complaint);
  const marked = [
    ...understood.map(
      ({ from, to, hasEffect }) => ({ from, to, is: hasEffect ? 'counts' : 'known' }) as const,
    ),
    ...missed.map(({ from, to }) => ({ from, to, is: 'missed' }) as const),
  ].toSorted((one, other) => one.from - other.from);
  const known = understood
    .filter(({ hasEffect }) => !hasEffect)
    .map(({ from, to }) => complaint.slice(from, to));
  return { words: cutUp(complaint, marked), known: [...new Set(known)], missed: [...leftOver] };
}

/** The whole text in pieces: the marked ones, and what lies between them. */
function cutUp(text: string, marked: readonly { from: number; to: number; is: Piece['is'] }[]): Piece[] {
  const pieces: Piece[] = [];
  let at = 0;
  for (const { from, to, is } of marked) {
    if (from < at) continue;
    pieces.push({ text: text.slice(at, from), is: 'between' }, { text: text.slice(from, to), is });
    at = to;
  }
  return [...pieces, { text: text.slice(at), is: 'between' } as const].filter((piece) => piece.text !== '');
}
