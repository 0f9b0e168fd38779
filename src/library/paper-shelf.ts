/** Paper versions kept once they are made, and made one at a time in small slices, so that nobody else waits for them. */
import { setImmediate as nextTurn } from 'node:timers/promises';
import { LRUCache } from 'lru-cache';
import type { Content } from '../content/index.ts';
import { sayChance } from '../diagnosis/index.ts';
import { usualComplaints } from '../paper/index.ts';
import { Problem } from '../problems.ts';
import { openRun, type RunBook } from '../runs/book.ts';
import type { Person } from '../runs/schema.ts';
import type { PaperComplaint, PaperRequest, PaperSheet } from '../web/paper-sheet.ts';
import { sayComplaint, writePaperSheet } from './paper-sheet.ts';

/** A sheet takes some tens of kilobytes. */
const keptSheets = 200;
/** Sheets that wait to be made; more are refused. */
const mostWaiting = 12;
/** Complaints to choose from. */
const offeredComplaints = 16;
/** A sheet shows fingerings in words and no notes on staves. */
const noStaves = { prepare: async () => undefined, find: () => null };
/** Work goes on for so many milliseconds before others are served. */
const slice = 10;

export type PaperShelf = {
  complaints(instrument: string, person: Person): Promise<readonly PaperComplaint[]>;
  sheet(request: PaperRequest): Promise<PaperSheet>;
};

/** The paper versions of one edition. */
export function createPaperShelf(content: Content): PaperShelf {
  const sheets = new LRUCache<string, Promise<PaperSheet>>({ max: keptSheets });
  const complaints = new Map<string, Promise<PaperComplaint[]>>();
  let waiting = 0;
  let last: Promise<unknown> = Promise.resolve();

  const make = (book: RunBook, request: PaperRequest): Promise<PaperSheet> => {
    if (waiting >= mostWaiting)
      throw new Problem('too-busy', 'Too many paper versions are waiting to be made. Ask again in a minute.');
    waiting += 1;
    const { instrument, person, tools, failing } = request;
    const before = last;
    const made = (async () => {
      await before.catch(() => undefined);
      return inSlices(writePaperSheet(book, { instrument, person, tools }, failing));
    })().finally(() => {
      waiting -= 1;
    });
    last = made;
    return made;
  };

  return {
    async complaints(instrument, person) {
      const key = `${instrument} ${person}`;
      const book = openRun(content, instrument, person, noStaves);
      const known = complaints.get(key) ?? listComplaints(book, person);
      complaints.set(key, known);
      return known;
    },
    async sheet(request) {
      const book = openRun(content, request.instrument, request.person, noStaves);
      const wanted = {
        ...request,
        tools: [...new Set(request.tools)].sort(),
        failing: [...new Set(request.failing)].sort(),
      };
      checkNotes(book, wanted.failing);
      const key = JSON.stringify(wanted);
      const kept = sheets.get(key) ?? make(book, wanted);
      sheets.set(key, kept);
      kept.catch(() => sheets.delete(key));
      return kept;
    },
  };
}

async function listComplaints(book: RunBook, person: Person): Promise<PaperComplaint[]> {
  const usual = await inSlices(usualComplaints(book.model, person, offeredComplaints));
  return usual.map(({ failing, share }) => {
    const ids = failing.map(({ id }) => id);
    return { failing: ids, words: sayComplaint(book, ids), chance: sayChance(share) };
  });
}

function checkNotes({ instrument }: RunBook, failing: readonly string[]): void {
  const known = instrument.playTest.map(({ id }) => id);
  const unknown = failing.find((id) => !known.includes(id));
  if (unknown === undefined) return;
  throw new Problem(
    'unknown-note',
    `The play test of the ${instrument.name} has no fingering "${unknown}".`,
    {
      fields: [{ pointer: '/failing', detail: `Give ids of these: ${known.join(', ')}.` }],
      extra: { known },
    },
  );
}

async function inSlices<T>(work: Generator<void, T, void>): Promise<T> {
  for (;;) {
    const until = performance.now() + slice;
    do {
      const { done, value } = work.next();
      if (done === true) return value;
    } while (performance.now() < until);
    await nextTurn();
  }
}
