/** Tables in README.md and DEVELOPERS.md that a command writes: each stands between two marks. */

/**
 * Where a table stands in a text.
 *
 * @param text of the document. @param mark name of the table, as in `<!-- coverage -->` … `<!-- /coverage -->`
 * @returns the first and the last place between the marks
 * @throws RangeError when a mark is missing
 */
export function findMarked(text: string, mark: string): { from: number; to: number } {
  const begin = `<!-- ${mark} -->`;
  const end = `<!-- /${mark} -->`;
  const from = text.indexOf(begin) + begin.length;
  const to = text.indexOf(end);
  if (from < begin.length || to < from)
    throw new RangeError(`The document lacks ${begin} or ${end}; put them back.`);
  return { from, to };
}

/** The text with something else between its marks. @throws RangeError when a mark is missing */
export function replaceMarked(text: string, mark: string, inner: string): string {
  const { from, to } = findMarked(text, mark);
  return `${text.slice(0, from)}\n${inner}\n${text.slice(to)}`;
}
