/** A place in a drawing space: [x, y], y downwards. */
export type Point = readonly [number, number];
/** [width, height]. */
export type Size = readonly [number, number];
/** An upright rectangle by its edges. */
export type Box = {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
};

/** The distance between two points, in the unit of their space. */
export function distance([ax, ay]: Point, [bx, by]: Point): number {
  return Math.hypot(bx - ax, by - ay);
}

/** The box of a given size around its middle. */
export function boxAround([x, y]: Point, [width, height]: Size): Box {
  return { left: x - width / 2, top: y - height / 2, right: x + width / 2, bottom: y + height / 2 };
}

/** The smallest box that holds all boxes; throws RangeError when there are none. */
export function boxOver(boxes: readonly Box[]): Box {
  if (boxes.length === 0) throw new RangeError('boxOver needs at least one box');
  return {
    left: Math.min(...boxes.map((box) => box.left)),
    top: Math.min(...boxes.map((box) => box.top)),
    right: Math.max(...boxes.map((box) => box.right)),
    bottom: Math.max(...boxes.map((box) => box.bottom)),
  };
}

/** The smallest box that holds all points; throws RangeError when there are none. */
export function boxOverPoints(points: readonly Point[]): Box {
  return boxOver(points.map((point) => boxAround(point, [0, 0])));
}

/** The box with `margin` added on every side. */
export function growBox(box: Box, margin: number): Box {
  return {
    left: box.left - margin,
    top: box.top - margin,
    right: box.right + margin,
    bottom: box.bottom + margin,
  };
}

/** The area that two boxes share, 0 when they do not meet. */
export function sharedArea(one: Box, other: Box): number {
  const width = Math.min(one.right, other.right) - Math.max(one.left, other.left);
  const height = Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top);
  return width > 0 && height > 0 ? width * height : 0;
}

/**
 * The point of a broken line nearest to `point`: its distance from it, and how far along the line it lies from the
 * line's start.
 */
export function nearestOnLine(line: readonly Point[], point: Point): { away: number; along: number } {
  let best = { away: Number.POSITIVE_INFINITY, along: 0 };
  let walked = 0;
  for (let index = 1; index < line.length; index++) {
    const start = line[index - 1]!;
    const end = line[index]!;
    const length = distance(start, end);
    const across = (point[0] - start[0]) * (end[0] - start[0]) + (point[1] - start[1]) * (end[1] - start[1]);
    const share = length === 0 ? 0 : Math.min(1, Math.max(0, across / (length * length)));
    const foot: Point = [start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])];
    const away = distance(foot, point);
    if (away < best.away) best = { away, along: walked + share * length };
    walked += length;
  }
  return best;
}

/** The point that lies `length` from `start` in the direction of `end`. */
export function pointTowards(start: Point, end: Point, length: number): Point {
  const whole = distance(start, end) || 1;
  return [
    start[0] + ((end[0] - start[0]) * length) / whole,
    start[1] + ((end[1] - start[1]) * length) / whole,
  ];
}

/** The point at `angle` degrees (0 upwards, clockwise) and `radius` around `middle`. */
export function pointAround([x, y]: Point, radius: number, angle: number): Point {
  const radians = (angle * Math.PI) / 180;
  return [x + radius * Math.sin(radians), y - radius * Math.cos(radians)];
}
