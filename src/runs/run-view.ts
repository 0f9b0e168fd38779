/** A run as its page shows it: the step, the conversation so far, and how far along it is. */
import { suspects } from '../diagnosis/index.ts';
import type { RunRow } from '../store/index.ts';
import { beliefOf, type RunBook } from './book.ts';
import { evidenceOf, type RunState, type Turn } from './run-state.ts';
import { viewStep } from './step-view.ts';
import type { RunView } from './view.ts';

/** A suspect below this share is no longer counted as open; a figure of ours. */
const ruledOutBelow = 0.01;

/** Everything that a run's page shows now. */
export function viewRun(book: RunBook, row: RunRow, state: RunState, turns: readonly Turn[]): RunView {
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
    progress: progressOf(book, state),
    step: viewStep(book, state, { id: row.id, openedAt: row.openedAt }),
    example: null,
  };
}

/** Honest words: how many of the things that can be wrong are as good as ruled out, and what is left. */
function progressOf(book: RunBook, state: RunState): RunView['progress'] {
  const all = book.model.hypotheses.faults.length;
  if (evidenceOf(state).length === 0) {
    return { ruledOut: `${all} things can be wrong on this instrument. None is ruled out yet.`, ahead: '' };
  }
  const open = suspects(book.model, beliefOf(book, state)).faults.filter(
    ({ present }) => present >= ruledOutBelow,
  ).length;
  const ahead = open === 0 ? 'Nothing stands out.' : open === 1 ? 'One is left.' : `${open} are left.`;
  return { ruledOut: `${all - open} of ${all} things that can be wrong are as good as ruled out.`, ahead };
}
