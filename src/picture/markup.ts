import type { Box, Point, Size } from './geometry.ts';
import { pointAround, pointTowards } from './geometry.ts';

type Attributes = Readonly<Record<string, string | number | undefined>>;

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text made safe for element content and attribute values. */
export function escapeText(text: string): string {
  return text.replace(/[&<>"']/g, (character) => ESCAPES[character]!);
}

/** A number with at most one decimal: finer than a pixel is of no use, and every byte travels to a phone. */
export function short(value: number): string {
  // + 0 turns -0 into 0.
  return String(Math.round(value * 10) / 10 + 0);
}

/** One SVG element; attributes that are undefined are left out, children are markup already. */
export function element(name: string, attributes: Attributes, ...children: readonly string[]): string {
  let text = `<${name}`;
  for (const [key, value] of Object.entries(attributes)) {
    if (value === undefined) continue;
    text += ` ${key}="${typeof value === 'number' ? short(value) : escapeText(value)}"`;
  }
  return children.length === 0 ? `${text}/>` : `${text}>${children.join('')}</${name}>`;
}

/** A path element, or nothing when there is nothing to draw. */
export function path(className: string, data: string): string {
  return data === '' ? '' : element('path', { class: `picture-${className}`, d: data });
}

/** One line of text; `anchor` says which part of it lies at the point. The point is on the base line. */
export function textLine(
  className: string,
  text: string,
  [x, y]: Point,
  options: { size: number; anchor?: 'start' | 'middle' | 'end' },
): string {
  const attributes = {
    class: `picture-${className}`,
    x,
    y,
    'font-size': options.size,
    'text-anchor': options.anchor === 'start' ? undefined : (options.anchor ?? 'middle'),
  };
  return element('text', attributes, escapeText(text));
}

/** Path data of a broken line through the points. */
export function lineData(points: readonly Point[]): string {
  return points.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${short(x)} ${short(y)}`).join('');
}

/** Path data of a circle. */
export function circleData([x, y]: Point, radius: number): string {
  const r = short(radius);
  const across = short(radius * 2);
  return `M${short(x - radius)} ${short(y)}a${r} ${r} 0 1 0 ${across} 0a${r} ${r} 0 1 0-${across} 0`;
}

/** Path data of a rectangle with half-round ends; a square one becomes a circle. */
export function pillData([x, y]: Point, [width, height]: Size): string {
  if (Math.abs(width - height) < 0.1) return circleData([x, y], width / 2);
  const radius = Math.min(width, height) / 2;
  const r = short(radius);
  const across = short(radius * 2);
  const straight = short(Math.abs(width - height));
  return width > height
    ? `M${short(x - width / 2 + radius)} ${short(y - radius)}h${straight}a${r} ${r} 0 0 1 0 ${across}h-${straight}a${r} ${r} 0 0 1 0-${across}`
    : `M${short(x + radius)} ${short(y - height / 2 + radius)}v${straight}a${r} ${r} 0 0 1-${across} 0v-${straight}a${r} ${r} 0 0 1 ${across} 0`;
}

/** Path data of a box. */
export function boxData({ left, top, right, bottom }: Box): string {
  return `M${short(left)} ${short(top)}H${short(right)}V${short(bottom)}H${short(left)}z`;
}

/** Path data of an open arrow head at `tip`, pointing away from `from`. */
export function arrowHeadData(from: Point, tip: Point, length: number): string {
  const back = pointTowards(tip, from, length);
  const [dx, dy] = [(back[0] - tip[0]) * 0.6, (back[1] - tip[1]) * 0.6];
  return lineData([[back[0] - dy, back[1] + dx], tip, [back[0] + dy, back[1] - dx]]);
}

/** Path data of a straight arrow. */
export function arrowData(from: Point, tip: Point, head: number): string {
  return lineData([from, tip]) + arrowHeadData(from, tip, head);
}

/**
 * Path data of an arrow that turns around `middle`; angles in degrees, 0 upwards, clockwise. It turns clockwise when
 * `to` is greater than `from`.
 */
export function turningArrowData(middle: Point, radius: number, from: number, to: number): string {
  const clockwise = to > from;
  const start = pointAround(middle, radius, from);
  const tip = pointAround(middle, radius, to);
  const large = Math.abs(to - from) > 180 ? 1 : 0;
  const r = short(radius);
  // The head follows the arc, so it points away from a place a little earlier on it.
  const before = pointAround(middle, radius * 1.06, to + (clockwise ? -24 : 24));
  return (
    `${lineData([start])}A${r} ${r} 0 ${large} ${clockwise ? 1 : 0} ${short(tip[0])} ${short(tip[1])}` +
    arrowHeadData(before, tip, Math.max(7, radius * 0.36))
  );
}
