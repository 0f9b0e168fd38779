/**
 * The engraver's page of one note as a small picture: the same lines and glyphs, without ids, style or colour.
 *
 * Measures: ten units between two lines, the bottom line at 0, up is negative. So a note that stands n steps above the
 * bottom line lies at -5n, whatever its clef.
 */

/** Of the engraver: units between two staff lines, and the part of a glyph's own size at which it is drawn. */
const ENGRAVED_SPACE = 180;
const UNIT = 10 / ENGRAVED_SPACE;
/** Space to the right of the note and around the whole, in units. */
const MARGIN = 3;
/** Units to one em of the text around, so that the note grows with it. */
const EM = 16;

type Glyph = { readonly className: string; readonly x: number; readonly y: number; readonly data: string };
type Line = { readonly from: number; readonly to: number; readonly y: number };

/**
 * Redraws one page of the engraver.
 *
 * @param page SVG text of verovio with bounding boxes
 * @param words what the picture shows, for people who cannot see it
 * @throws Error when the page holds no staff of five lines with a clef and a note
 */
export function drawStaff(page: string, words: string): string {
  const glyphs = readGlyphs(page);
  const lines = readLines(page);
  const staff = lines.slice(0, 5);
  const ledger = lines.slice(5);
  const clef = glyphs.find(({ className }) => className === 'clef');
  const head = glyphs.find(({ className }) => className === 'notehead');
  const bottom = staff[4]?.y;
  if (bottom === undefined || clef === undefined || head === undefined)
    throw new Error('The engraver gave a page without a staff, a clef and a note.');

  const boxes = readBoxes(page);
  const across = (value: number): number => Math.round(value * UNIT);
  const down = (value: number): number => Math.round((value - bottom) * UNIT);
  const width = across(Math.max(...boxes.map(({ right }) => right), ...ledger.map(({ to }) => to))) + MARGIN;
  const top = down(Math.min(staff[0]!.y, ...boxes.map((box) => box.top))) - MARGIN;
  const height = down(Math.max(bottom, ...boxes.map((box) => box.bottom))) + MARGIN - top;

  const stroke = (drawn: readonly Line[]): string =>
    drawn.map(({ from, to, y }) => `M${across(from)} ${down(y)}H${Math.min(across(to), width)}`).join('');
  const put = ({ className, x, y, data }: Glyph): string =>
    `<path class="staff-${className}" transform="translate(${across(x)} ${down(y)}) scale(.04 -.04)" d="${data}"/>`;
  return [
    `<svg class="staff" role="img" aria-label="${words}" viewBox="0 ${top} ${width} ${height}"`,
    ` width="${width / EM}em" height="${height / EM}em" fill="currentColor">`,
    `<path class="staff-lines" stroke="currentColor" stroke-width=".8" d="${stroke(staff)}"/>`,
    ledger.length === 0
      ? ''
      : `<path class="staff-ledger" stroke="currentColor" stroke-width="1.2" d="${stroke(ledger)}"/>`,
    ...glyphs.map(put),
    '</svg>',
  ].join('');
}

/** Clef, note head and accidental: each a glyph of the music font, told once and put in its place by a reference. */
function readGlyphs(page: string): Glyph[] {
  const outlines = new Map<string, string>();
  for (const [, id, data] of page.matchAll(/<g id="([^"]+)">\s*<path transform="scale\(1,-1\)" d="([^"]+)"/g))
    outlines.set(id!, data!.replaceAll(/\s+/g, ' '));
  return [
    ...page.matchAll(
      /class="(clef|notehead|accid)">(?:(?!<use)[\s\S])*<use xlink:href="#([^"]+)" transform="translate\(([-\d.]+), ([-\d.]+)\)/g,
    ),
  ].map(([, className, id, x, y]) => ({
    className: className!,
    x: Number(x),
    y: Number(y),
    data: outlines.get(id!) ?? '',
  }));
}

/** The lines of the staff from the top, then the ledger lines. */
function readLines(page: string): Line[] {
  return [...page.matchAll(/d="M([-\d.]+) ([-\d.]+) L([-\d.]+) [-\d.]+" stroke-width/g)].map(
    ([, from, y, to]) => ({ from: Number(from), to: Number(to), y: Number(y) }),
  );
}

/** The room that clef, note and accidental take. */
function readBoxes(page: string): { top: number; bottom: number; right: number }[] {
  return [
    ...page.matchAll(
      /class="(?:clef|note|accid) bounding-box">\s*<rect x="([-\d.]+)" y="([-\d.]+)" height="([\d.]+)" width="([\d.]+)"/g,
    ),
  ].map(([, x, y, height, width]) => ({
    top: Number(y),
    bottom: Number(y) + Number(height),
    right: Number(x) + Number(width),
  }));
}
