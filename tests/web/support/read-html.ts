/** Reading pages in tests without a browser. */

const entities: Record<string, string> = {
  '&amp;': '&',
  '&lt;': '<',
  '&gt;': '>',
  '&quot;': '"',
  '&#x27;': "'",
  '&#x60;': '`',
  '&#x3D;': '=',
};

/** Text as a browser reads it: entities become their characters. */
export function readText(html: string): string {
  return html.replaceAll(/&(?:\w+|#x\w+);/g, (entity) => entities[entity] ?? entity);
}

/** The row of a note on the play-test page, by the id of its element. */
export function readRow(html: string, anchor: string): string {
  const [row] = new RegExp(`<section class="note[^"]*" id="${anchor}"[\\s\\S]*?</section>`).exec(html) ?? [];
  if (row === undefined) throw new Error(`The page has no row ${anchor}.`);
  return row;
}
