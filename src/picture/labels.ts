import {
  type Box,
  boxAround,
  distance,
  type Point,
  pointAround,
  pointTowards,
  type Size,
  sharedArea,
} from './geometry.ts';
import { arrowData, lineData, path, textLine } from './markup.ts';

/** The average width of a letter, as a share of the letter size: estimates for common sans-serif fonts. */
const LETTER_WIDTHS = { bold: 0.6, plain: 0.55 } as const;
const STEPS = [0, 6, 12, 20, 30, 42, 56, 72];
/** What one unit away from the closest place costs, against one unit of covered area of weight 1. */
const STEP_COST = 14;
const ANGLES = [90, 270, 45, 135, 315, 225, 0, 180, 67, 113, 247, 293, 22, 158, 202, 338];

/** What must stay readable: areas with the weight of covering them. */
export type Obstacle = { readonly box: Box; readonly weight: number };

export type Label = {
  readonly lines: readonly string[];
  /** What the label belongs to, and how much room around it must stay free. */
  readonly anchor: Point;
  readonly clear: number;
  readonly size: number;
  /** The word and the line to its place, as classes. */
  readonly className: string;
  readonly pointer: 'arrow' | 'line';
  /** What this label in particular must keep off, beside what every label keeps off. */
  readonly avoid?: readonly Obstacle[];
};

/** The width that a text takes, in the unit of its letter size: an estimate. */
export function textWidth(text: string, size: number, weight: keyof typeof LETTER_WIDTHS = 'bold'): number {
  return [...text].length * size * LETTER_WIDTHS[weight];
}

/**
 * Places labels one after the other where they cover least, and draws each with a pointer to its anchor.
 * The same input always gives the same places. `room` is the size of the panel.
 */
export function drawLabels(labels: readonly Label[], room: Size, obstacles: readonly Obstacle[]): string {
  const taken = [...obstacles];
  for (const label of labels)
    taken.push({ box: boxAround(label.anchor, [label.clear * 2, label.clear * 2]), weight: 4 });
  return labels
    .map((label) => {
      const place = findPlace(label, room, [...taken, ...(label.avoid ?? [])]);
      taken.push({ box: place, weight: 12 });
      return drawLabel(label, place);
    })
    .join('');
}

function labelSize(label: Label): Size {
  const width = Math.max(...label.lines.map((line) => textWidth(line, label.size)));
  return [width + 6, label.lines.length * label.size * 1.15 + 4];
}

function findPlace(label: Label, [roomWidth, roomHeight]: Size, taken: readonly Obstacle[]): Box {
  const size = labelSize(label);
  let best = { cost: Number.POSITIVE_INFINITY, box: boxAround(label.anchor, size) };
  const gap = label.pointer === 'arrow' ? 14 : 4;
  for (const step of STEPS) {
    // Further away can only cost more.
    if (best.cost <= step * STEP_COST) break;
    for (const angle of ANGLES) {
      const [dirX, dirY] = pointAround([0, 0], 1, angle);
      const reach = label.clear + gap + step;
      const middle: Point = [
        label.anchor[0] + dirX * reach + (Math.abs(dirX) < 0.2 ? 0 : Math.sign(dirX) * size[0] * 0.5),
        label.anchor[1] + dirY * reach + (Math.abs(dirY) < 0.2 ? 0 : Math.sign(dirY) * size[1] * 0.5),
      ];
      const box = boxAround(middle, size);
      if (box.left < 2 || box.top < 2 || box.right > roomWidth - 2 || box.bottom > roomHeight - 2) continue;
      const covered = taken.reduce((sum, { box: other, weight }) => sum + sharedArea(box, other) * weight, 0);
      const cost = covered + step * STEP_COST;
      if (cost < best.cost) best = { cost, box };
    }
  }
  return best.box;
}

function drawLabel(label: Label, box: Box): string {
  const nearest: Point = [
    Math.min(box.right, Math.max(box.left, label.anchor[0])),
    Math.min(box.bottom, Math.max(box.top, label.anchor[1])),
  ];
  const tip = pointTowards(label.anchor, nearest, label.clear + 2);
  // A line too short to be seen as one only looks like a speck.
  const isNear = distance(nearest, label.anchor) < label.clear + 9;
  const pointer =
    label.pointer === 'arrow' ? arrowData(nearest, tip, 8) : isNear ? '' : lineData([nearest, tip]);
  const middle = (box.left + box.right) / 2;
  const lines = label.lines.map((line, index) =>
    textLine(`${label.className}-word`, line, [middle, box.top + label.size * (1 + index * 1.15)], {
      size: label.size,
    }),
  );
  return path(`${label.className}-pointer`, pointer) + lines.join('');
}

/** Boxes along a broken line, so that labels keep off it. */
export function lineObstacles(line: readonly Point[], weight: number): Obstacle[] {
  return line.slice(1).flatMap((end, index) => {
    const start = line[index]!;
    const steps = Math.max(1, Math.round(distance(start, end) / 10));
    return Array.from({ length: steps + 1 }, (_, step) => ({
      box: boxAround(pointTowards(start, end, (distance(start, end) * step) / steps), [10, 10]),
      weight,
    }));
  });
}

/** Breaks text into lines of at most `width`, at spaces. */
export function wrapText(
  text: string,
  size: number,
  width: number,
  weight: keyof typeof LETTER_WIDTHS = 'bold',
): string[] {
  const lines: string[] = [];
  // Finger numbers stay together: "1 2 3" reads as one word.
  for (const word of text.replace(/(\d) (?=\d)/g, '$1\u00a0').split(' ')) {
    const longer = lines.length === 0 ? word : `${lines.at(-1)} ${word}`;
    if (lines.length > 0 && textWidth(longer, size, weight) <= width) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
}

/** A paragraph of lines from `at` (the base line of the first) downwards. */
export function drawParagraph(
  className: string,
  lines: readonly string[],
  [x, y]: Point,
  size: number,
): string {
  return lines
    .map((line, index) => textLine(className, line, [x, y + index * size * 1.25], { size, anchor: 'start' }))
    .join('');
}
