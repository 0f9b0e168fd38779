/** The valves, slides and water keys of a brass instrument, drawn from the layout. */

import { drawStretch, isShown } from './body.ts';
import { outlineBox } from './bore.ts';
import { type Box, boxAround, boxOver, type Point } from './geometry.ts';
import { boxData, circleData, path, textLine } from './markup.ts';
import type { Panel } from './panel.ts';
import type { Layout } from './schema.ts';

type Station = readonly [number, number, number];

/** A slide as it lies with the instrument at a position (1 is all the way in). */
export function slideStations(layout: Layout, id: string, position = 1): readonly Station[] {
  const slide = layout.tube?.slides[id];
  if (slide === undefined) throw new RangeError(`the layout of ${layout.instrument} has no slide "${id}"`);
  const [dx, dy] = drawnBy(layout, id, position);
  return slide.stations.map(([x, y, half]) => [x + dx, y + dy, half] as const);
}

/** How far a slide, and what moves with it, is drawn at a position. */
function drawnBy(layout: Layout, id: string | undefined, position: number): Point {
  const [dx, dy] = (id === undefined ? undefined : layout.tube?.slides[id]?.draw) ?? [0, 0];
  return [dx * (position - 1), dy * (position - 1)];
}

/** All slides, water keys and valve casings that the panel shows. */
export function drawTubeParts(layout: Layout, panel: Panel, position: number): string {
  const { tube } = layout;
  if (tube === undefined) return '';
  const slides = Object.keys(tube.slides)
    .map((id) => slideStations(layout, id, position))
    .filter((stations) => isShown(panel, outlineBox(stations)))
    .map((stations) => drawStretch(panel, 'body', stations));
  const casings = Object.values(tube.valves)
    .map(({ at, size }) => boxAround(at, size))
    .filter((box) => isShown(panel, box))
    .map((box) => boxData(projectBox(panel, box)));
  const keys = Object.values(tube.waterKeys)
    .map(({ at: [x, y], size, movesWith }) => {
      const [dx, dy] = drawnBy(layout, movesWith, position);
      return { at: [x + dx, y + dy] as const, size };
    })
    .filter(({ at, size }) => isShown(panel, boxAround(at, [size, size])))
    .map(({ at, size }) => circleData(panel.project(at), (size / 2) * panel.scale));
  return slides.join('') + path('body', casings.join('')) + path('cup', keys.join(''));
}

function projectBox(panel: Panel, { left, top, right, bottom }: Box): Box {
  const [x, y] = panel.project([left, top]);
  const [farX, farY] = panel.project([right, bottom]);
  return { left: x, top: y, right: farX, bottom: farY };
}

/** The room that a part of the tube takes, or null for another part; two valves of a pair together. */
export function tubePartBox(layout: Layout, id: string, pair: readonly string[]): Box | null {
  const { tube } = layout;
  if (tube === undefined) return null;
  const boxOfValve = (valve: string) => boxAround(tube.valves[valve]!.at, tube.valves[valve]!.size);
  if (pair.length > 0) return boxOver(pair.map(boxOfValve));
  if (tube.valves[id] !== undefined) return boxOfValve(id);
  if (tube.slides[id] !== undefined) return outlineBox(slideStations(layout, id));
  const key = tube.waterKeys[id];
  return key === undefined ? null : boxAround(key.at, [key.size, key.size]);
}

/** The figures 1, 2, 3 … where the bow of the slide stands at each position, the one that is played in a ring. */
export function drawPositions(layout: Layout, panel: Panel, count: number, position: number): string {
  const slide = Object.entries(layout.tube?.slides ?? {}).find(([, { draw }]) => draw !== undefined);
  if (slide === undefined) return '';
  const [dx, dy] = slide[1].draw!;
  const far = farthest(slide[1].stations, [dx, dy]);
  return Array.from({ length: count }, (_, step) => {
    const at = panel.project([far[0] + dx * step + BESIDE[0], far[1] + dy * step + BESIDE[1]]);
    const isPlayed = step + 1 === position;
    return (
      (isPlayed ? path('pressed', circleData(at, FIGURE * 0.72)) : '') +
      textLine(isPlayed ? 'on' : 'at-rest', String(step + 1), [at[0], at[1] + FIGURE * 0.36], {
        size: FIGURE,
      })
    );
  }).join('');
}

/** The place of the slide that lies farthest in the direction in which it is drawn. */
function farthest(stations: readonly Station[], [dx, dy]: Point): Point {
  const along = ([x, y]: Station) => x * dx + y * dy;
  const [x, y] = stations.reduce((best, one) => (along(one) > along(best) ? one : best));
  return [x, y];
}

/** The figures stand beside the tube. */
const BESIDE: Point = [0, 34];
const FIGURE = 14;
