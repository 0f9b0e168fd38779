/** A small picture of a whole instrument by which one may know it: the body and its cups, without a word. */
import { drawBody, drawCups } from './body.ts';
import { outlineBox } from './bore.ts';
import { type Box, boxAround, boxOver, growBox } from './geometry.ts';
import { element } from './markup.ts';
import { createPanel } from './panel.ts';
import type { Layout } from './schema.ts';
import { drawTubeParts } from './tube-parts.ts';

const MARGIN = 6;

/**
 * The picture, as large as fits in a square of this many units. It says nothing that does not stand beside it in words, so
 * it is hidden from whoever listens to the page.
 *
 * @param share how much of the square it fills, so that a long instrument stands beside a short one as it should; 0 to 1
 */
export function drawSilhouette(layout: Layout, square: number, share = 1): string {
  const window = growBox(boxOfBody(layout), MARGIN);
  const panel = createPanel([0, 0], [square * share, square * share], window, layout.space);
  return element(
    'svg',
    {
      class: 'picture picture-silhouette',
      viewBox: `${(-square * (1 - share)) / 2} ${(-square * (1 - share)) / 2} ${square} ${square}`,
      'aria-hidden': 'true',
      focusable: 'false',
    },
    drawBody(layout, panel),
    drawTubeParts(layout, panel, 1),
    drawCups(layout, panel),
  );
}

function boxOfBody({ body, rim, vents, tube }: Layout): Box {
  return boxOver([
    ...Object.values(tube?.slides ?? {}).map(({ stations }) => outlineBox(stations)),
    ...body.map(({ stations }) => outlineBox(stations)),
    ...Object.values(vents).map(({ at, size }) => boxAround(at, [size, size])),
    ...(rim === undefined ? [] : [boxAround(rim.at, rim.size)]),
  ]);
}
