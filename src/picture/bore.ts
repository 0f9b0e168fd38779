import { type Box, boxOverPoints, distance, nearestOnLine, type Point } from './geometry.ts';
import { short } from './markup.ts';
import type { Layout } from './schema.ts';

type Station = readonly [number, number, number];

/** The middle line of the whole bore, from the mouthpiece to the rim. */
export function boreLine(layout: Layout): Point[] {
  return layout.body.flatMap((piece) => piece.stations.map(([x, y]): Point => [x, y]));
}

/** How far along the bore a point lies: the length of the middle line up to the place next to it. */
export function alongBore(layout: Layout, point: Point): number {
  return nearestOnLine(boreLine(layout), point).along;
}

/** The two walls of a stretch of bore, both in the direction of the air. */
function walls(stations: readonly Station[]): { left: Point[]; right: Point[] } {
  const left: Point[] = [];
  const right: Point[] = [];
  stations.forEach(([x, y, half], index) => {
    const [beforeX, beforeY] = stations[Math.max(0, index - 1)]!;
    const [afterX, afterY] = stations[Math.min(stations.length - 1, index + 1)]!;
    const length = distance([beforeX, beforeY], [afterX, afterY]) || 1;
    const across: Point = [(-(afterY - beforeY) * half) / length, ((afterX - beforeX) * half) / length];
    left.push([x - across[0], y - across[1]]);
    right.push([x + across[0], y + across[1]]);
  });
  return { left, right };
}

/** Path data of a smooth curve through all points (Catmull–Rom spline written as Bézier curves), without the first move. */
function curveData(points: readonly Point[]): string {
  let data = '';
  for (let index = 1; index < points.length; index++) {
    const [start, end] = [points[index - 1]!, points[index]!];
    const before = points[index - 2] ?? start;
    const after = points[index + 1] ?? end;
    const firstControl: Point = [start[0] + (end[0] - before[0]) / 6, start[1] + (end[1] - before[1]) / 6];
    const secondControl: Point = [end[0] - (after[0] - start[0]) / 6, end[1] - (after[1] - start[1]) / 6];
    data += `C${[firstControl, secondControl, end].map(([x, y]) => `${short(x)} ${short(y)}`).join(' ')}`;
  }
  return data;
}

/** Path data of the closed outline of a stretch of bore; `project` carries the stations into the panel. */
export function outlineData(stations: readonly Station[]): string {
  const { left, right } = walls(stations);
  const back = right.toReversed();
  const [startX, startY] = left[0]!;
  const [turnX, turnY] = back[0]!;
  return `M${short(startX)} ${short(startY)}${curveData(left)}L${short(turnX)} ${short(turnY)}${curveData(back)}z`;
}

/** The box around a stretch of bore. */
export function outlineBox(stations: readonly Station[]): Box {
  const { left, right } = walls(stations);
  return boxOverPoints([...left, ...right]);
}

/** The stations of the bore between two points beside it, in the direction of the air. */
export function boreStretch(layout: Layout, from: Point, to: Point): Station[] {
  const [start, end] = [alongBore(layout, from), alongBore(layout, to)];
  const between = layout.body
    .flatMap((piece) => piece.stations)
    .filter(([x, y]) => {
      const along = alongBore(layout, [x, y]);
      return along > start && along < end;
    });
  const edge = (point: Point, neighbour: Station | undefined): Station => [
    point[0],
    point[1],
    neighbour?.[2] ?? 1,
  ];
  return [edge(from, between[0]), ...between, edge(to, between.at(-1))];
}
