import { type Point, pointAround } from './geometry.ts';
import { lineData, path, short, textLine, turningArrowData } from './markup.ts';

/** How far a screw has been turned and how far it may be, in eighths of a turn. */
export type DialReading = {
  readonly direction: 'in' | 'out';
  readonly turnedEighths: number;
  readonly limitEighths: number;
};

const OUTER = 40;
const INNER = 23;
/** Width and height of one dial with its words. */
export const DIAL_SIZE = 132;

/**
 * Throws RangeError unless the limit is a whole number of eighths from 1 to 24 and the turned eighths lie between 0
 * and the limit in steps of one half.
 */
export function checkReading({ turnedEighths, limitEighths }: DialReading): void {
  if (!Number.isInteger(limitEighths) || limitEighths < 1 || limitEighths > 24) {
    throw new RangeError(`limitEighths must be a whole number from 1 to 24, not ${limitEighths}`);
  }
  if (!Number.isInteger(turnedEighths * 2) || turnedEighths < 0 || turnedEighths > limitEighths) {
    throw new RangeError(
      `turnedEighths must lie between 0 and ${limitEighths} in steps of 0.5, not ${turnedEighths}`,
    );
  }
}

/** Which full turn the screw is in, counted from 1, and how many the limit reaches into. */
export function countTurns({ turnedEighths, limitEighths }: DialReading): { turn: number; of: number } {
  const of = Math.ceil(limitEighths / 8);
  return { turn: Math.min(of, Math.floor(turnedEighths / 8) + 1), of };
}

/**
 * The eighths turned so far in this full turn, as the screw's head seen from above: done ones filled, the next one
 * with a thick edge, a bar and the word "stop" at the limit. `at` is the upper left corner.
 */
export function drawDial(reading: DialReading, at: Point): string {
  const { direction, turnedEighths, limitEighths } = reading;
  const middle: Point = [at[0] + DIAL_SIZE / 2, at[1] + DIAL_SIZE / 2];
  const sign = direction === 'in' ? 1 : -1;
  const first = (countTurns(reading).turn - 1) * 8;
  const last = Math.min(limitEighths, first + 8);
  const parts = Array.from({ length: last - first }, (_, index) => first + index);
  const reached = (eighth: number) => Math.min(eighth + 1, Math.max(eighth, turnedEighths));
  const next = parts.find((eighth) => reached(eighth) < eighth + 1);
  const draw = (from: number, to: number) => (to > from ? wedgeData(middle, from, to, sign) : '');
  return [
    path('dial', parts.map((eighth) => draw(eighth, eighth + 1)).join('')),
    path('done', parts.map((eighth) => draw(eighth, reached(eighth))).join('')),
    path('next', next === undefined ? '' : draw(reached(next), next + 1)),
    path('dial-arrow', turningArrowData(middle, INNER - 9, -50 * sign, 150 * sign)),
    last === limitEighths ? drawStop(middle, limitEighths * 45 * sign) : '',
  ].join('');
}

function wedgeData(middle: Point, from: number, to: number, sign: number): string {
  const [start, end] = [from * 45 * sign, to * 45 * sign];
  const forth = sign === 1 ? 1 : 0;
  const arc = (radius: number, sweep: number, angle: number) => {
    const [x, y] = pointAround(middle, radius, angle);
    return `A${radius} ${radius} 0 0 ${sweep} ${short(x)} ${short(y)}`;
  };
  const [x, y] = pointAround(middle, INNER, end);
  return `${lineData([pointAround(middle, OUTER, start)])}${arc(OUTER, forth, end)}L${short(x)} ${short(y)}${arc(INNER, 1 - forth, start)}z`;
}

function drawStop(middle: Point, angle: number): string {
  const bar = lineData([pointAround(middle, INNER - 3, angle), pointAround(middle, OUTER + 5, angle)]);
  const [x, y] = pointAround(middle, OUTER + 12, angle);
  const isAside = Math.abs(x - middle[0]) > 10;
  const anchor = !isAside ? 'middle' : x > middle[0] ? 'start' : 'end';
  const atX = isAside ? x - Math.sign(x - middle[0]) * 5 : x;
  return (
    path('stop', bar) +
    textLine('strong', 'stop', [atX, y + (isAside ? 4 : y > middle[1] ? 9 : 2)], { size: 13, anchor })
  );
}

/** A word for the way the screw goes: clockwise is in. */
export function directionWords(direction: 'in' | 'out'): string {
  return direction === 'in' ? 'in, clockwise' : 'out, anticlockwise';
}
