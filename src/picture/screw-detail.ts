import { boxAround, distance, type Point } from './geometry.ts';
import { drawLabels, type Label, lineObstacles, type Obstacle, wrapText } from './labels.ts';
import { drawCross, drawInstrument, drawScrew, drawTouchName, listObstacles } from './marks.ts';
import { circleData, lineData, path, pillData, turningArrowData } from './markup.ts';
import type { Panel } from './panel.ts';
import type { Place } from './place.ts';
import type { Layout } from './schema.ts';

/** A screw with what it joins: `driving` works `driven` through it. `lookAlike` is a neighbour taken for it easily. */
export type ScrewScene = {
  readonly layout: Layout;
  readonly screw: Place;
  readonly lookAlike: Place | null;
  readonly driving: readonly Place[];
  readonly driven: readonly Place[];
};

/**
 * The screw close up: its turning arrow (or, without a direction, a ring), the parts it joins as thick lines, the
 * look-alike crossed out.
 */
export function drawScrewDetail(scene: ScrewScene, direction: 'in' | 'out' | null, panel: Panel): string {
  const { layout, driving, driven } = scene;
  const at = panel.project(scene.screw.at);
  const other = scene.lookAlike && panel.project(scene.lookAlike.at);
  const radius = Math.min(13, other ? distance(at, other) * 0.3 : 13);
  const sign = direction === 'in' ? 1 : -1;
  const screws = other ? [at, other] : [at];
  const labels: Label[] = [
    {
      ...label('turn', [direction === null ? 'this one' : `turn ${direction}`], at, radius + 14, 16),
      avoid: other ? [nearby(other, radius)] : [],
    },
    ...(other
      ? [{ ...label('not', ['not this one'], other, radius + 8, 14), avoid: [nearby(at, radius)] }]
      : []),
    ...driven.map((place) => nameLabel(layout, panel, place, screws)),
    ...driving.map((place) => nameLabel(layout, panel, place, screws)),
  ];
  const thick = [...driving, ...driven].flatMap((place) => armsOf(layout, panel, place));
  return [
    drawInstrument(layout, panel, 'detail'),
    path('driver', driving.map((place) => partData(layout, panel, place)).join('')),
    ...driving.map((place) => drawDrivingTouch(layout, panel, place)),
    path('target', driven.map((place) => partData(layout, panel, place)).join('')),
    other ? drawLookAlike(other, radius) : '',
    drawScrew('screw', at, radius),
    path(
      'turn',
      direction === null
        ? circleData(at, radius + 8)
        : turningArrowData(at, radius + 9, -120 * sign, 130 * sign),
    ),
    drawLabels(labels, panel.size, [
      ...listObstacles(layout, panel, []),
      ...thick.flatMap((line) => lineObstacles(line, 6)),
    ]),
  ].join('');
}

/** The room around a screw where a word would be taken to belong to it. */
function nearby(screw: Point, radius: number): Obstacle {
  const reach = radius * 2 + 56;
  return { box: boxAround(screw, [reach * 2, reach]), weight: 8 };
}

function drawLookAlike(at: Point, radius: number): string {
  return (
    drawScrew('other', at, radius) +
    path('not', circleData(at, radius + 7)) +
    drawCross('cross', at, radius + 5)
  );
}

/** The arms of a part in the units of the panel. */
function armsOf(layout: Layout, panel: Panel, { id }: Place): Point[][] {
  const arms = layout.keys[id]?.arms ?? layout.touches[id]?.arms ?? layout.vents[id]?.arms ?? [];
  return arms.map((arm) => arm.map(panel.project));
}

/** A touch that drives, once more over its own arm, so that the arm does not cross its name out. */
function drawDrivingTouch(layout: Layout, panel: Panel, place: Place): string {
  const touch = layout.touches[place.id];
  if (touch === undefined) return '';
  const [at, size] = [panel.project(place.at), sizeIn(panel, place)];
  return path('driver-touch', pillData(at, size)) + drawTouchName(panel, 'on-driver', touch.label, at, size);
}

/** The lines of a part: its arms, and its cup or touch as a ring. */
function partData(layout: Layout, panel: Panel, place: Place): string {
  const lines = armsOf(layout, panel, place).map(lineData).join('');
  return layout.keys[place.id] ? lines : lines + pillData(panel.project(place.at), sizeIn(panel, place));
}

function sizeIn(panel: Panel, { box }: Place): readonly [number, number] {
  return [(box.right - box.left) * panel.scale, (box.bottom - box.top) * panel.scale];
}

function label(
  className: string,
  lines: readonly string[],
  anchor: Point,
  clear: number,
  size: number,
): Label {
  return { lines, anchor, clear, size, className, pointer: 'line' };
}

/** The name of a part: beside its cup or touch, or, for a key, by its arm. */
function nameLabel(layout: Layout, panel: Panel, place: Place, screws: readonly Point[]): Label {
  const lines = wrapText(place.name.replace(/ \(.*\)$/, ''), 13.5, 74);
  const arm = layout.keys[place.id] ? findFreePoint(armsOf(layout, panel, place), panel, screws) : undefined;
  if (arm) return label('name', lines, arm, 4, 13.5);
  return label('name', lines, panel.project(place.at), sizeIn(panel, place)[1] / 2 + 2, 13.5);
}

/** A point of the arms inside the panel and far from the screws, so that a name there does not crowd them. */
function findFreePoint(
  arms: readonly (readonly Point[])[],
  panel: Panel,
  screws: readonly Point[],
): Point | undefined {
  const inside = boxAround([panel.size[0] / 2, panel.size[1] / 2], [panel.size[0] - 24, panel.size[1] - 24]);
  const points = arms.flatMap((arm) => arm.slice(1).flatMap((end, index) => pointsBetween(arm[index]!, end)));
  const shown = points.filter(
    ([x, y]) => x > inside.left && x < inside.right && y > inside.top && y < inside.bottom,
  );
  const room = (point: Point) => Math.min(...screws.map((screw) => distance(screw, point)));
  return shown.toSorted((one, other) => room(other) - room(one))[0];
}

function pointsBetween([ax, ay]: Point, [bx, by]: Point): Point[] {
  return Array.from(
    { length: 9 },
    (_, step): Point => [ax + ((bx - ax) * step) / 8, ay + ((by - ay) * step) / 8],
  );
}
