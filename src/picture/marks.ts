import type { Touch } from '../mechanism/index.ts';
import { drawArms, drawBody, drawCups, drawHoles, drawTouches, isShown, listArms } from './body.ts';
import { type Box, boxAround, type Point, type Size, sharedArea } from './geometry.ts';
import { lineObstacles, type Obstacle, textWidth } from './labels.ts';
import { boxData, circleData, element, lineData, path, pillData, textLine } from './markup.ts';
import type { Panel } from './panel.ts';
import type { Layout } from './schema.ts';
import { drawTubeParts } from './tube-parts.ts';

/** Views at rest already drawn: they depend on nothing but the layout and the panel, and are half of the work. */
const AT_REST = new WeakMap<Layout, Map<string, string>>();

/** The instrument at rest as a panel shows it, with the slide at a position; arms only in a detail, where there is room for them. */
export function drawInstrument(layout: Layout, panel: Panel, view: 'whole' | 'detail', position = 1): string {
  const drawn = AT_REST.get(layout) ?? new Map<string, string>();
  AT_REST.set(layout, drawn);
  const { left, top } = panel.window;
  const key = [view, position, ...panel.size, left, top, panel.scale].join(' ');
  const known = drawn.get(key);
  if (known !== undefined) return known;
  const markup = drawAtRest(layout, panel, view, position);
  drawn.set(key, markup);
  return markup;
}

function drawAtRest(layout: Layout, panel: Panel, view: 'whole' | 'detail', position: number): string {
  const rest =
    drawTubeParts(layout, panel, position) +
    drawCups(layout, panel) +
    drawTouches(layout, panel) +
    drawHoles(layout, panel);
  if (view === 'whole') return drawBody(layout, panel) + rest;
  const names = Object.values(layout.touches)
    .filter(({ at, size }) => isShown(panel, boxAround(at, size)))
    .map(({ at, size, label }) =>
      drawTouchName(panel, 'at-rest', label, panel.project(at), [
        size[0] * panel.scale,
        size[1] * panel.scale,
      ]),
    );
  return drawBody(layout, panel) + drawArms(layout, panel) + rest + names.join('');
}

/** The smallest letters and figures: 12 px where a picture 340 wide stands on a screen 360 wide. */
const SMALLEST_NAME = 13.2;

/** The label of a touch, where it fits on it and nothing of it reaches over the panel's edge. */
export function drawTouchName(
  panel: Panel,
  className: string,
  label: string,
  [x, y]: Point,
  [width, height]: Size,
): string {
  const size = Math.min(16, Math.max(SMALLEST_NAME, height * 0.75));
  const length = textWidth(label, size);
  const { left, top, right, bottom } = boxAround([x, y], [length, size]);
  const isInside = left >= 2 && top >= 2 && right <= panel.size[0] - 2 && bottom <= panel.size[1] - 2;
  if (length > width + 2 || !isInside) return '';
  return textLine(className, label, [x, y + size * 0.36], { size });
}

/** The size of a touch in a panel; never too small to carry its number or a short name. */
function touchSize(layout: Layout, panel: Panel, id: string): Size {
  const { size, label } = layout.touches[id]!;
  const [width, height] = [size[0] * panel.scale, size[1] * panel.scale];
  const least = label.length > 1 && label.length < 4 ? textWidth(label, SMALLEST_NAME) + 2 : SMALLEST_TOUCH;
  return [Math.max(SMALLEST_TOUCH, least, width), Math.max(SMALLEST_TOUCH, height)];
}

const SMALLEST_TOUCH = 17;

/** Pressed touches: filled, with their label where it fits. */
export function drawPressed(layout: Layout, panel: Panel, touches: readonly Touch[]): string {
  const shown = touches.filter(({ id }) =>
    isShown(panel, boxAround(layout.touches[id]!.at, layout.touches[id]!.size)),
  );
  const shapes = shown.map(({ id }) =>
    pillData(panel.project(layout.touches[id]!.at), touchSize(layout, panel, id)),
  );
  const names = shown.map(({ id }) =>
    drawTouchName(
      panel,
      'on',
      layout.touches[id]!.label,
      panel.project(layout.touches[id]!.at),
      touchSize(layout, panel, id),
    ),
  );
  return path('pressed', shapes.join('')) + names.join('');
}

/** The touch to tap: a thick outline around a light one, so that it differs from a held one without colour. */
export function drawTapped(layout: Layout, panel: Panel, touch: Touch): string {
  const [width, height] = touchSize(layout, panel, touch.id);
  const at = panel.project(layout.touches[touch.id]!.at);
  return (
    path('tap-room', pillData(at, [width + 6, height + 6])) +
    path('tap', pillData(at, [width - 3, height - 3]))
  );
}

/** A thick ring around a box of layout units, with some room; `kind` names its class. */
export function drawRing(kind: string, panel: Panel, box: Box, room: number): string {
  const middle = panel.project([(box.left + box.right) / 2, (box.top + box.bottom) / 2]);
  const size = (length: number) => Math.max(12, length * panel.scale + 2 * room);
  return path(kind, pillData(middle, [size(box.right - box.left), size(box.bottom - box.top)]));
}

/** The edge that shows in the whole which part of it the detail enlarges. */
export function drawWindowEdge(panel: Panel, window: Box): string {
  const [left, top] = panel.project([window.left, window.top]);
  const [right, bottom] = panel.project([window.right, window.bottom]);
  return path('window', boxData({ left, top, right, bottom }));
}

/** The edge of a panel, drawn over it. */
export function drawPanelEdge(panel: Panel): string {
  const [x, y] = panel.at;
  return element('rect', { class: 'picture-edge', x, y, width: panel.size[0], height: panel.size[1], rx: 4 });
}

/** A screw seen from above: a round head with a slot, and nothing else. */
export function drawScrew(kind: string, [x, y]: Point, radius: number): string {
  const reach = radius * 0.66;
  const slot = lineData([
    [x - reach, y + reach * 0.6],
    [x + reach, y - reach * 0.6],
  ]);
  return path(kind, circleData([x, y], radius)) + path(`${kind}-slot`, slot);
}

/** A cross over a place that is not meant. */
export function drawCross(kind: string, [x, y]: Point, reach: number): string {
  const data =
    lineData([
      [x - reach, y - reach],
      [x + reach, y + reach],
    ]) +
    lineData([
      [x - reach, y + reach],
      [x + reach, y - reach],
    ]);
  return path(kind, data);
}

/** Everything drawn that a label should rather not cover: cups, touches, and the metal between them. */
export function listObstacles(layout: Layout, panel: Panel, pressed: readonly Touch[]): Obstacle[] {
  const obstacle = (at: Point, size: Size, weight: number): Obstacle => ({
    box: boxAround(panel.project(at), [size[0] * panel.scale, size[1] * panel.scale]),
    weight,
  });
  const cups = Object.values(layout.vents).map(({ at, size }) => obstacle(at, [size, size], CUP_WEIGHT));
  const touches = Object.entries(layout.touches).map(([id, { at, size }]) =>
    obstacle(at, size, pressed.some((touch) => touch.id === id) ? PRESSED_WEIGHT : TOUCH_WEIGHT),
  );
  const arms = listArms(layout).flatMap((arm) => lineObstacles(arm.map(panel.project), ARM_WEIGHT));
  const room = boxAround([panel.size[0] / 2, panel.size[1] / 2], panel.size);
  return [...cups, ...touches, ...arms].filter(({ box }) => sharedArea(box, room) > 0);
}

/** How bad it is to cover each: pressed touches carry what must be read, touches at rest at least their number. */
const PRESSED_WEIGHT = 8;
const TOUCH_WEIGHT = 1;
const CUP_WEIGHT = 0.4;
const ARM_WEIGHT = 0.3;
