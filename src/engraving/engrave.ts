/** Engraving by verovio. It takes a third of a second and some 120 MB to load, so it is loaded in a thread that ends again. */

import { VerovioToolkit } from 'verovio/esm';
import createVerovioModule from 'verovio/wasm';
import type { Clef } from '../mechanism/index.ts';
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

/**
 * Engraves notes under a clef.
 *
 * @param notes note names as written, each once
 * @returns SVG text by note
 * @throws RangeError when one of them is no note name, Error when the engraver does not take the score
 */
export async function engrave(clef: Clef, notes: readonly string[]): Promise<Map<string, string>> {
  const toolkit = new VerovioToolkit(await createVerovioModule());
  toolkit.setOptions(options);
  if (!toolkit.loadData(scoreOf(clef, notes)) || toolkit.getPageCount() !== notes.length)
    throw new Error(`The engraver did not take ${notes.length} notes in the ${clef} clef.`);
  return new Map(
    notes.map((note, index) => [note, drawStaff(toolkit.renderToSVG(index + 1), staffWords(clef, note))]),
  );
}
