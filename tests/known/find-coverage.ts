/** Where the table of what is known of each instrument stands in a text: between its two marks. */
const marks = { begin: '<!-- coverage -->', end: '<!-- /coverage -->' };

/** The first and the last place of the table. @throws RangeError when a mark is missing */
export function findCoverage(text: string): { from: number; to: number } {
  const from = text.indexOf(marks.begin) + marks.begin.length;
  const to = text.indexOf(marks.end);
  if (from < marks.begin.length || to < from)
    throw new RangeError(`DEVELOPERS.md lacks ${marks.begin} or ${marks.end}; put them back.`);
  return { from, to };
}
