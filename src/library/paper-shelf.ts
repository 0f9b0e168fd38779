/** Paper versions, kept once they are made. */
import { LRUCache } from 'lru-cache';
import type { Content } from '../content/index.ts';
import type { Instrument } from '../mechanism/index.ts';
import { Problem } from '../problems.ts';
import { findInstrument } from '../runs/book.ts';
import type { Person } from '../runs/schema.ts';
import type { PaperComplaint, PaperRequest, PaperSheet } from '../web/paper-sheet.ts';
import { openPaperThread } from './paper-thread.ts';

/** A sheet takes some tens of kilobytes. */
const keptSheets = 200;
/** Things that wait to be made; more are refused. */
const mostWaiting = 12;

export type PaperShelf = {
  complaints(instrument: string, person: Person): Promise<readonly PaperComplaint[]>;
  sheet(request: PaperRequest): Promise<PaperSheet>;
};

/** The paper versions of one edition. */
export function createPaperShelf(content: Content): PaperShelf {
  const thread = openPaperThread(content);
  const sheets = new LRUCache<string, Promise<PaperSheet>>({ max: keptSheets });
  const complaints = new LRUCache<string, Promise<PaperComplaint[]>>({ max: keptSheets });

  /** What is kept, or else what is made now; what failed is not kept. */
  const fetch = <Made extends object>(
    kept: LRUCache<string, Promise<Made>>,
    key: string,
    make: () => Promise<Made>,
  ): Promise<Made> => {
    const known = kept.get(key);
    if (known !== undefined) return known;
    if (thread.waiting() >= mostWaiting)
      throw new Problem('too-busy', 'Too many paper versions are waiting to be made. Ask again in a minute.');
    const made = make();
    kept.set(key, made);
    made.catch(() => kept.delete(key));
    return made;
  };

  return {
    async complaints(instrument, person) {
      findInstrument(content, instrument);
      return fetch(complaints, `${instrument} ${person}`, () =>
        thread.do('complaints', { instrument, person }),
      );
    },
    async sheet(request) {
      const { instrument } = findInstrument(content, request.instrument);
      checkNotes(instrument, request.failing);
      const wish = {
        ...request,
        tools: [...new Set(request.tools)].sort(),
        failing: [...new Set(request.failing)].sort(),
      };
      const sheet = await fetch(sheets, JSON.stringify(wish), () => thread.do('sheet', wish));
      if (sheet.endings.length === 0) throw noPaperVersion(sheet);
      return sheet;
    },
  };
}

/** A sheet whose every question leads to the bench would only cost time. */
function noPaperVersion({ complaint }: PaperSheet): Problem {
  return new Problem(
    'no-paper-version',
    `“${complaint}” can come from so many parts that no two pages of questions lead to one of them. Begin a run on a device, which can ask more, or send the instrument to the bench.`,
  );
}

function checkNotes({ name, playTest }: Instrument, failing: readonly string[]): void {
  const known = playTest.map(({ id }) => id);
  const unknown = failing.find((id) => !known.includes(id));
  if (unknown === undefined) return;
  throw new Problem('unknown-note', `The play test of the ${name} has no fingering "${unknown}".`, {
    fields: [{ pointer: '/failing', detail: `Give ids of these: ${known.join(', ')}.` }],
    extra: { known },
  });
}
