import { type Point, pointAround } from './geometry.ts';
import { lineData, path, short, textLine, turningArrowData } from './markup.ts';

/**
 * How far a screw has been turned, how far it may be, and what is to be turned now, all in eighths of a turn.
 * `direction` is that of the whole treatment; `nowEighths` goes on in it where it is positive, and back where it is
 * negative.
 */
export type DialReading = {
  readonly direction: 'in' | 'out';
  readonly turnedEighths: number;
  readonly limitEighths: number;
  readonly nowEighths: number;
};

const OUTER = 37;
const INNER = 21;
/** Width and height of one dial with its words. */
export const DIAL_SIZE = 112;

/**
 * Throws RangeError unless the limit is a whole number of eighths from 1 to 24, the turned eighths lie between 0 and the
 * limit in steps of one half, and so do they after what is turned now.
 */
export function checkReading({ turnedEighths, limitEighths, nowEighths }: DialReading): void {
  if (!Number.isInteger(limitEighths) || limitEighths < 1 || limitEighths > 24) {
    throw new RangeError(`limitEighths must be a whole number from 1 to 24, not ${limitEighths}`);
  }
  const checkCount = (name: string, count: number) => {
    if (!Number.isInteger(count * 2) || count < 0 || count > limitEighths) {
      throw new RangeError(`${name} must lie between 0 and ${limitEighths} in steps of 0.5, not ${count}`);
    }
  };
  checkCount('turnedEighths', turnedEighths);
  checkCount('turnedEighths + nowEighths', turnedEighths + nowEighths);
}

/** Which way the screw goes now: against the direction of the treatment when it is turned back. */
export function directionNow({ direction, nowEighths }: DialReading): 'in' | 'out' {
  if (nowEighths >= 0) return direction;
  return direction === 'in' ? 'out' : 'in';
}

/** Which full turn the screw is turned in now, counted from 1, and how many the limit reaches into. */
export function countTurns({ turnedEighths, limitEighths, nowEighths }: DialReading): {
  turn: number;
  of: number;
} {
  const of = Math.ceil(limitEighths / 8);
  const turn = nowEighths < 0 ? Math.ceil(turnedEighths / 8) : Math.floor(turnedEighths / 8) + 1;
  return { turn: Math.min(of, turn), of };
}

/**
 * The eighths of this full turn, as the screw's head seen from above: turned ones filled, those to turn now with a thick
 * edge, the arrow the way the screw goes now, and a bar where to stop: at the limit, or, when it is turned back, where it
 * stood at first. `at` is the upper left corner.
 */
export function drawDial(reading: DialReading, at: Point): string {
  const { direction, turnedEighths, limitEighths, nowEighths } = reading;
  const middle: Point = [at[0] + DIAL_SIZE / 2, at[1] + DIAL_SIZE / 2];
  const sign = direction === 'in' ? 1 : -1;
  const isBack = nowEighths < 0;
  const [least, most] = [turnedEighths, turnedEighths + nowEighths].toSorted((one, other) => one - other);
  const first = (countTurns(reading).turn - 1) * 8;
  const last = Math.min(limitEighths, first + 8);
  const parts = Array.from({ length: last - first }, (_, index) => first + index);
  const drawParts = (from: number, to: number) =>
    parts.map((eighth) => wedgeData(middle, Math.max(eighth, from), Math.min(eighth + 1, to), sign)).join('');
  const forth = directionNow(reading) === 'in' ? 1 : -1;
  const stop = isBack ? 0 : limitEighths;
  return [
    path('dial', drawParts(first, last)),
    path('done', drawParts(first, turnedEighths)),
    path(isBack ? 'undo' : 'next', drawParts(least!, most!)),
    path('dial-arrow', turningArrowData(middle, INNER - 9, -50 * forth, 150 * forth)),
    first <= stop && stop <= last ? drawStop(isBack ? 'start' : 'stop', middle, stop * 45 * sign) : '',
  ].join('');
}

function wedgeData(middle: Point, from: number, to: number, sign: number): string {
  if (to <= from) return '';
  const [start, end] = [from * 45 * sign, to * 45 * sign];
  const forth = sign === 1 ? 1 : 0;
  const arc = (radius: number, sweep: number, angle: number) => {
    const [x, y] = pointAround(middle, radius, angle);
    return `A${radius} ${radius} 0 0 ${sweep} ${short(x)} ${short(y)}`;
  };
  const [x, y] = pointAround(middle, INNER, end);
  return `${lineData([pointAround(middle, OUTER, start)])}${arc(OUTER, forth, end)}L${short(x)} ${short(y)}${arc(INNER, 1 - forth, start)}z`;
}

function drawStop(word: string, middle: Point, angle: number): string {
  const bar = lineData([pointAround(middle, INNER - 3, angle), pointAround(middle, OUTER + 5, angle)]);
  const [x, y] = pointAround(middle, OUTER + 12, angle);
  const isAside = Math.abs(x - middle[0]) > 10;
  const anchor = !isAside ? 'middle' : x > middle[0] ? 'start' : 'end';
  const atX = isAside ? x - Math.sign(x - middle[0]) * 5 : x;
  return (
    path('stop', bar) +
    textLine('strong', word, [atX, y + (isAside ? 4 : y > middle[1] ? 9 : 2)], { size: 14, anchor })
  );
}

/** A word for the way the screw goes: clockwise is in. */
export function directionWords(direction: 'in' | 'out'): string {
  return direction === 'in' ? 'in, clockwise' : 'out, anticlockwise';
}
