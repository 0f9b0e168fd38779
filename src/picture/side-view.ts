import type { Point } from './geometry.ts';
import { wrapText } from './labels.ts';
import {
  arrowData,
  boxData,
  circleData,
  element,
  lineData,
  path,
  pillData,
  short,
  textLine,
} from './markup.ts';

/** A cup over its hole: how far above it, how much of that on one side only, and which way it moves. */
export type SideCup = {
  readonly lift: number;
  readonly tilt?: number;
  readonly arrow?: 'up' | 'down' | 'both';
};

/** One view from the side: one cup or two, with what is laid under it, shines through it or touches it. */
export type SideView = {
  /** Right or a fault; null where the view only shows what to do. */
  readonly sign: 'good' | 'fault' | null;
  readonly words: string;
  readonly cups: readonly SideCup[];
  readonly with?: 'paper' | 'light' | 'eye' | 'finger';
};

const GAP = 4;
const BOX_HEIGHT = 104;
/** Height of the views with the line under them. */
export const SIDE_VIEWS_HEIGHT = BOX_HEIGHT + 18;
const WORDS = 13.5;

/** Views side by side, as wide together as `room`, and a line that says from where they are seen. */
export function drawSideViews(views: readonly SideView[], [x, y]: Point, room: number): string {
  const width = (room - GAP * (views.length - 1)) / views.length;
  return (
    views.map((view, index) => drawView(view, [x + index * (width + GAP), y], width)).join('') +
    textLine('small', 'seen from the side', [x + room / 2, y + BOX_HEIGHT + 15], { size: WORDS })
  );
}

function drawView(view: SideView, [x, y]: Point, width: number): string {
  const hole = y + 84;
  const step = width / view.cups.length;
  const half = view.cups.length > 1 ? 12 : 20;
  const middles = view.cups.map((_, index) => x + step * (index + 0.5) - (view.cups.length > 1 ? 0 : 2));
  const lines = wrapText(view.words, WORDS, width - 8, 'plain');
  const top = view.sign === null ? 19 : 35;
  return [
    element('rect', { class: 'picture-edge', x, y, width, height: BOX_HEIGHT, rx: 8 }),
    view.sign === null ? '' : drawSign(view.sign, [x, y]),
    drawWall(x, width, middles, half - 3, hole),
    ...view.cups.map((cup, index) => drawCup(cup, middles[index]!, hole, half)),
    view.with === undefined ? '' : drawExtra(view, middles[0]!, hole),
    ...lines.map((line, index) =>
      textLine('small', line, [x + width / 2, y + top + index * 14], { size: WORDS }),
    ),
  ].join('');
}

function drawSign(sign: 'good' | 'fault', [x, y]: Point): string {
  const mark =
    sign === 'good'
      ? lineData([
          [x + 8, y + 12],
          [x + 13, y + 17],
          [x + 22, y + 6],
        ])
      : crossData([x + 14.5, y + 11.5], 5.5);
  return (
    path(`${sign}-sign`, mark) +
    textLine(`${sign}-word`, sign, [x + 29, y + 17], { size: 14, anchor: 'start' })
  );
}

function crossData([x, y]: Point, reach: number): string {
  return (
    lineData([
      [x - reach, y - reach],
      [x + reach, y + reach],
    ]) +
    lineData([
      [x + reach, y - reach],
      [x - reach, y + reach],
    ])
  );
}

/** The wall of the tube with its holes. */
function drawWall(x: number, width: number, middles: readonly number[], half: number, hole: number): string {
  const low = hole + 13;
  const ends = middles.flatMap((middle): [number, number][] => [
    [middle - half, -1],
    [middle + half, 1],
  ]);
  const starts = [x + 4, ...ends.filter(([, side]) => side === 1).map(([end]) => end)];
  const stops = [...ends.filter(([, side]) => side === -1).map(([end]) => end), x + width - 4];
  const data = starts.map((start, index) => {
    const stop = stops[index]!;
    const rise = (at: number, isEnd: boolean): Point[] =>
      isEnd
        ? [[at, low]]
        : [
            [at, hole],
            [at, low],
          ];
    const first = rise(start, index === 0);
    const last = rise(stop, index === starts.length - 1).toReversed();
    return lineData([...first, ...last]);
  });
  return path('wall', data.join(''));
}

function drawCup(cup: SideCup, middle: number, hole: number, half: number): string {
  const y = hole - 5 - cup.lift;
  const tilt = cup.tilt ?? 0;
  const pad = lineData([
    [middle - half, y - tilt],
    [middle + half, y + tilt],
  ]);
  const stem = lineData([
    [middle, y - 3],
    [middle - half * 0.7, y - 11 - tilt],
    [middle - half - 14, y - 11 - tilt],
  ]);
  return (
    path('pad', pad) + path('stem', half < 20 ? '' : stem) + path('move', moveData(cup, middle, y, half))
  );
}

function moveData({ arrow }: SideCup, middle: number, y: number, half: number): string {
  if (arrow === undefined) return '';
  const isBesidePad = half >= 20;
  const x = isBesidePad ? middle + half + 12 : middle;
  const low = isBesidePad ? y + 8 : y - 6;
  const high = low - 24;
  if (arrow === 'up') return arrowData([x, low], [x, high], 7);
  if (arrow === 'down') return arrowData([x, high], [x, low], 7);
  return arrowData([x, low - 12], [x, high], 7) + arrowData([x, low - 12], [x, low], 7);
}

function drawExtra({ with: extra, sign, cups }: SideView, middle: number, hole: number): string {
  const lift = cups[0]!.lift;
  switch (extra) {
    case 'paper': {
      // A strip that slips lies further out already.
      const [start, end] = sign === 'fault' ? [middle + 4, middle + 40] : [middle - 14, middle + 30];
      const strip = boxData({ left: start, top: hole - 4, right: end, bottom: hole });
      const from: Point = [middle + 23, hole - 16];
      return path('strip', strip) + path('move', arrowData(from, [middle + 38, hole - 16], 6));
    }
    case 'light': {
      const lamp: Point = [middle, hole + 16];
      const out: Point[] = [
        [middle - 38, hole - 7],
        [middle - 34, hole - 16],
      ];
      const rays =
        sign === 'fault' ? out.map((end) => lineData([[middle - 20, hole - 3], end])).join('') : '';
      return (
        path('lamp', circleData(lamp, 4)) +
        path(
          'ray',
          rays +
            lineData([
              [middle, hole + 9],
              [middle, hole + 3],
            ]),
        )
      );
    }
    case 'eye': {
      const eye: Point = [middle + 60, hole - 10];
      return path('eye', pillData(eye, [32, 18])) + path('pupil', circleData(eye, 5));
    }
    default: {
      const tip = hole - 8 - lift;
      return path('finger', `M${short(middle - 10)} ${tip - 36}V${tip - 10}a10 10 0 0 0 20 0V${tip - 36}`);
    }
  }
}
