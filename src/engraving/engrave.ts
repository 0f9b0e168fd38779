/** Engraving by verovio. It takes a third of a second and some 100 MB to load, so it is loaded in a thread that ends again. */

import { VerovioToolkit } from 'verovio/esm';
import createVerovioModule from 'verovio/wasm';
import { Clef } from '../mechanism/index.ts';
import { scoreOf } from './score.ts';
import { drawStaff } from './staff-picture.ts';
import { staffWords } from './words.ts';

/** A page as large as its note, with its boxes told. */
const options = {
  breaks: 'encoded',
  adjustPageWidth: true,
  adjustPageHeight: true,
  header: 'none',
  footer: 'none',
  pageMarginTop: 0,
  pageMarginBottom: 0,
  pageMarginLeft: 0,
  pageMarginRight: 0,
  svgBoundingBoxes: true,
  mnumInterval: 0,
} as const;

/** A note as written, under its clef. */
export type WrittenNote = { readonly clef: Clef; readonly note: string };

export type EngravedNote = WrittenNote & { readonly svg: string };

/**
 * Engraves notes, each alone on its staff.
 *
 * @returns the notes with SVG text, in no certain order; one that cannot be engraved is left out
 * @throws when none of them can be: RangeError for what is no note name, Error when the engraver does not take it
 */
export async function engrave(written: readonly WrittenNote[]): Promise<EngravedNote[]> {
  const toolkit = new VerovioToolkit(await createVerovioModule());
  toolkit.setOptions(options);
  let failure: unknown;
  const engraved = Clef.options.flatMap((clef) => {
    const notes = written.filter((one) => one.clef === clef).map(({ note }) => note);
    try {
      return notes.length === 0 ? [] : engraveUnder(toolkit, clef, notes);
    } catch (error) {
      failure = error;
      // One bad note must not take the others with it.
      return notes.length === 1 ? [] : notes.flatMap((note) => engraveAlone(toolkit, clef, note));
    }
  });
  if (engraved.length === 0 && failure !== undefined) throw failure;
  return engraved;
}

function engraveAlone(toolkit: VerovioToolkit, clef: Clef, note: string): EngravedNote[] {
  try {
    return engraveUnder(toolkit, clef, [note]);
  } catch {
    return [];
  }
}

function engraveUnder(toolkit: VerovioToolkit, clef: Clef, notes: readonly string[]): EngravedNote[] {
  if (!toolkit.loadData(scoreOf(clef, notes)) || toolkit.getPageCount() !== notes.length)
    throw new Error(`The engraver did not take ${notes.length} notes in the ${clef} clef.`);
  return notes.map((note, index) => ({
    clef,
    note,
    svg: drawStaff(toolkit.renderToSVG(index + 1), staffWords(clef, note)),
  }));
}
