/** What is made for paper: the usual complaints of an instrument, and sheets. */
import type { Content } from '../content/index.ts';
import { sayChance } from '../diagnosis/index.ts';
import { usualComplaints } from '../paper/index.ts';
import { openRun } from '../runs/book.ts';
import type { Person } from '../runs/schema.ts';
import type { PaperComplaint, PaperRequest, PaperSheet } from '../web/paper-sheet.ts';
import { sayComplaint, writePaperSheet } from './paper-sheet.ts';

/** Complaints to choose from. */
const offeredComplaints = 16;
/** A sheet shows fingerings in words and no notes on staves. */
const noStaves = { prepare: async () => undefined, find: () => null };

/** Something to be made, and what comes of it. */
export type PaperJobs = {
  readonly complaints: {
    readonly wish: { readonly instrument: string; readonly person: Person };
    readonly made: PaperComplaint[];
  };
  readonly sheet: { readonly wish: PaperRequest; readonly made: PaperSheet };
};
export type PaperJob = {
  [Kind in keyof PaperJobs]: { readonly kind: Kind; readonly wish: PaperJobs[Kind]['wish'] };
}[keyof PaperJobs];

/**
 * Makes what is wished for; takes a second or two.
 * @throws RangeError for an unknown fingering, Problem `unknown-instrument`
 */
export function doPaperJob(content: Content, job: PaperJob): PaperJobs[keyof PaperJobs]['made'] {
  const { instrument, person } = job.wish;
  const book = openRun(content, instrument, person, noStaves);
  if (job.kind === 'sheet') {
    const { tools, failing } = job.wish;
    return writePaperSheet(book, { instrument, person, tools }, failing);
  }
  return usualComplaints(book.model, person, offeredComplaints).map(({ failing, share }) => {
    const ids = failing.map(({ id }) => id);
    return { failing: ids, words: sayComplaint(book, ids), chance: sayChance(share) };
  });
}
