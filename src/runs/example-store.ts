/** A store that holds the pages of one example run, ready to be read, and takes nothing. */

import { Problem } from '../problems.ts';
import type { RunRow, StoredEntry } from '../store/index.ts';
import type { ExampleWalk } from './example-walk.ts';
import type { RunsStore } from './runs-store.ts';

/** A page of the example: a moment at which one whole step has been read and only its answer is to come. */
export type ExamplePage = { readonly revision: number; readonly answer: string | null };

/** The moments worth a page: before each answer that is no note, and at the end. Played notes are told together. */
export function listExamplePages({ turns }: ExampleWalk): ExamplePage[] {
  const choices = turns.flatMap(({ answer, answered }, revision) =>
    answer.type === 'note' ? [] : [{ revision, answer: answered }],
  );
  return [...choices, { revision: turns.length, answer: null }];
}

/**
 * The store that the use cases of runs read the example from.
 *
 * @param walk the example run
 * @param revisionOf the revision at which the run with this id stands; null for an unknown id
 * @param opened the facts of its opening
 */
export function createExampleStore(
  { states, turns }: ExampleWalk,
  revisionOf: (id: string) => number | null,
  opened: Pick<RunRow, 'instrument' | 'person' | 'edition' | 'openedAt'>,
): RunsStore {
  const refuse = async (): Promise<never> => {
    throw new Problem(
      'example-only',
      'This is an example, here to be read. Nothing was changed. Start a run of your own from the start page.',
    );
  };
  return {
    createRun: refuse,
    append: refuse,
    async readRun(id) {
      const revision = revisionOf(id);
      if (revision === null) return undefined;
      return { id, ...opened, revision, state: states[revision], closed: revision === turns.length };
    },
    async readEntries(_id, { from = 1, to = turns.length } = {}) {
      return turns.slice(from - 1, to).map(
        (turn, index): StoredEntry => ({
          runId: _id,
          revision: from + index,
          key: `example-${from + index}`,
          at: opened.openedAt,
          body: { kind: 'answer', after: from + index - 1, turn },
          bodyHash: '',
          closed: from + index === turns.length,
        }),
      );
    },
    readStateAt: async (_id, revision) => states[revision],
  };
}
