/** A run as its page shows it: the step, the conversation so far, and how far along it is. */
import type { RunRow } from '../store/index.ts';
import type { RunBook } from './book.ts';
import { tellProgress } from './progress.ts';
import type { RunState, Turn } from './run-state.ts';
import { viewStep } from './step-view.ts';
import type { RunView } from './view.ts';

/**
 * Everything that a run's page shows now.
 *
 * @param before the state before the last answer, or null when there is nothing to compare with
 */
export function viewRun(
  book: RunBook,
  row: RunRow,
  state: RunState,
  turns: readonly Turn[],
  before: RunState | null,
): RunView {
  return {
    id: row.id,
    revision: row.revision,
    instrument: {
      id: book.instrument.id,
      name: book.instrument.name,
      nextRegister: Math.round(2 ** (book.instrument.overblow / 12)),
    },
    person: book.person,
    complaint: state.complaint,
    openedAt: row.openedAt,
    edition: row.edition,
    closed: row.closed,
    conversation: turns.map(({ asked, answered }, index) => ({
      entry: index + 1,
      asked,
      answered,
      canChange: true,
    })),
    progress: tellProgress(book, state, before),
    step: viewStep(book, state, { id: row.id, openedAt: row.openedAt }),
    example: null,
  };
}
