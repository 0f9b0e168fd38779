/** What comes before the notes on paper: the charts’ pages up to the first verdict, as boxes to tick. */
import type { FlowState } from '../flow/index.ts';
import { type RunBook, takeForGranted } from '../runs/book.ts';
import type { Opening } from '../runs/schema.ts';
import { stepInWords } from '../runs/words.ts';
import { letterOf, type PaperSheet, type PaperWay } from '../web/paper-sheet.ts';
import { sentence } from './paper-procedure.ts';

/**
 * The boxes before the notes, with every answer that leads elsewhere than to the next box, and the cautions of these pages.
 * @param book the instrument and the edition
 * @param opening who works with it and with what
 */
export function beforehand(book: RunBook, opening: Opening): Pick<PaperSheet, 'before' | 'cautions'> {
  const { flow } = book.content;
  const begun = book.begin(opening);
  const pages: FlowState[] = [];
  for (let now: FlowState | null = begun.flow; now !== null && isPage(book, now); ) {
    pages.push(now);
    now = after(book, now, flow.step(now).choices[0]!.id);
  }
  const cautions = new Set<string>();
  const before = pages.map((page, index) => {
    const { step, fill } = stepInWords(book, { ...begun, flow: page });
    for (const { brief } of step.cautions) cautions.add(sentence(fill(brief)));
    const ways = step.choices.flatMap(({ id, label }): PaperWay[] => {
      const next = after(book, page, id);
      const way = next === null ? null : wayTo(book, pages, index, next);
      return way === null ? [] : [{ label, when: '', ...way }];
    });
    const title = fill(step.title);
    const ask = `${title}${title.endsWith('?') ? '' : '.'} ${fill(step.onPaper).replace(/\n\n/g, ' ')}`;
    return { number: index + 1, ask, ways: ways.length > 1 ? joinAlike(ways) : [] };
  });
  return { before, cautions: [...cautions] };
}

/** Answers that lead away to the same place share a box. */
function joinAlike(ways: readonly PaperWay[]): PaperWay[] {
  const joined: PaperWay[] = [];
  for (const way of ways) {
    const same = joined.at(-1);
    if (same === undefined || way.words === '' || same.words !== way.words) joined.push(way);
    else joined[joined.length - 1] = { ...same, label: `${same.label}; ${lowerFirst(way.label)}` };
  }
  return joined;
}

function lowerFirst(label: string): string {
  return /^I\b/.test(label) ? label : label.charAt(0).toLowerCase() + label.slice(1);
}

function isPage({ content }: RunBook, state: FlowState): boolean {
  return !['weigh', 'notes'].includes(content.flow.step(state).kind);
}

function after(book: RunBook, state: FlowState, choice: string): FlowState | null {
  const taken = book.content.flow.take(state, { type: 'choice', choice });
  if ('refused' in taken) return null;
  return takeForGranted(book, taken.state) ?? taken.state;
}

/** Where an answer leads; null where somebody only stops. */
function wayTo(
  book: RunBook,
  pages: readonly FlowState[],
  index: number,
  next: FlowState,
): Omit<PaperWay, 'label' | 'when'> | null {
  const { flow } = book.content;
  const { outcome } = flow.step(next);
  if (outcome !== undefined) return { to: 'bench', number: null, words: outcome.title };
  // Without a note played the sheet cannot begin.
  if (!flow.situation(next).canPlay) return { to: 'bench', number: null, words: 'to the bench' };
  const place = pages.findIndex(({ at }) => at === next.at);
  if (place === -1 && isPage(book, next)) return null;
  const isNext = place === -1 || place === index + 1;
  return {
    to: 'before',
    number: place === -1 ? null : place + 1,
    words: isNext ? '' : letterOf(place + 1).toUpperCase(),
  };
}
