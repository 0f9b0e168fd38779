import { type Box, boxAround, type Point, type Size } from './geometry.ts';
import { element } from './markup.ts';

/** A window on the drawing space of a layout, shown at a place in the picture. */
export type Panel = {
  /** Where the panel stands in the picture. */
  readonly at: Point;
  readonly size: Size;
  /** What it shows, in layout units: the window as asked for, widened to the shape of the panel. */
  readonly window: Box;
  /** Picture units per layout unit. */
  readonly scale: number;
  /** From layout units to the panel's own units. */
  readonly project: (point: Point) => Point;
};

/**
 * A panel that shows the whole window, as large as fits. The window is widened to the shape of the panel and moved so
 * that as little as possible of it lies off the paper, which reaches from 0 0 to `paper`.
 */
export function createPanel(at: Point, size: Size, window: Box, paper: Size): Panel {
  const scale = Math.min(size[0] / (window.right - window.left), size[1] / (window.bottom - window.top));
  const keepOnPaper = (middle: number, length: number, end: number) =>
    length >= end ? end / 2 : Math.min(end - length / 2, Math.max(length / 2, middle));
  const middle: Point = [
    keepOnPaper((window.left + window.right) / 2, size[0] / scale, paper[0]),
    keepOnPaper((window.top + window.bottom) / 2, size[1] / scale, paper[1]),
  ];
  return {
    at,
    size,
    window: boxAround(middle, [size[0] / scale, size[1] / scale]),
    scale,
    project: ([x, y]) => [(x - middle[0]) * scale + size[0] / 2, (y - middle[1]) * scale + size[1] / 2],
  };
}

/** A panel that shows all of the paper. */
export function createWholePanel(at: Point, size: Size, paper: Size): Panel {
  return createPanel(at, size, { left: 0, top: 0, right: paper[0], bottom: paper[1] }, paper);
}

/** Whether the whole is shown above its detail, and not beside it: where it is wider than tall. */
export function isWide([width, height]: Size): boolean {
  return width > height;
}

/** The panel as a nested drawing, which clips what reaches over its edge. */
export function drawPanel(panel: Panel, ...content: readonly string[]): string {
  const [x, y] = panel.at;
  const [width, height] = panel.size;
  return element('svg', { class: 'picture-panel', x, y, width, height }, ...content);
}
