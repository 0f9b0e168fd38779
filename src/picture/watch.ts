import type { Instrument, Touch } from '../mechanism/index.ts';
import { framePicture, type Picture, type PictureOptions } from './frame.ts';
import { boxAround, type Point, sharedArea } from './geometry.ts';
import { drawLabels, drawParagraph, type Label, wrapText } from './labels.ts';
import {
  drawInstrument,
  drawPanelEdge,
  drawPressed,
  drawRing,
  drawTapped,
  drawWindowEdge,
  listObstacles,
} from './marks.ts';
import { circleData, path } from './markup.ts';
import { drawMovement, expectMovement, movementWords } from './movement.ts';
import { createPanel, createWholePanel, drawPanel, type Panel } from './panel.ts';
import { chooseWindow, type Place, placeOf } from './place.ts';
import type { Layout } from './schema.ts';
import { capitalize, findTouches, touchesWords, touchWords } from './words.ts';

/** A check with the eyes: touches to hold, a touch to tap meanwhile, and the vent to watch; all ids. */
export type WatchRequest = {
  readonly hold: readonly string[];
  readonly watch: string;
  readonly tap?: string;
};

const WIDTH = 340;
const LINE = 22;

/**
 * "Watch this": the whole instrument with the held touches and the watched cup, a detail of the cup's neighbourhood,
 * and the movement to look for, as computed from the mechanism. Throws RangeError when an id is unknown.
 */
export function drawWatch(
  instrument: Instrument,
  layout: Layout,
  request: WatchRequest,
  options: PictureOptions,
): Picture {
  const place = placeOf(instrument, layout, request.watch);
  const held = findTouches(instrument, request.hold);
  const tapped = request.tap === undefined ? null : findTouches(instrument, [request.tap])[0]!;
  const movement = expectMovement(instrument, request);
  const { must, good, fault } = movementWords(movement);

  const hold = held.length > 0 ? `hold ${touchesWords(instrument, request.hold)}` : '';
  const tap = tapped ? `tap ${touchWords(instrument, tapped)}` : '';
  const head = [
    ...headLines(hold, 'pressed'),
    ...headLines(tap, 'tap'),
    ...headLines(hold === '' && tap === '' ? 'press nothing' : '', 'none'),
    ...headLines(`watch the ${place.name}`, 'watch'),
  ];
  const top = head.length * LINE + 4;

  const whole = createWholePanel([0, top], [160, 326], layout.space);
  const detail = createPanel([168, top], [171, 200], chooseWindow([place.box], 40), layout.space);
  const scene: Scene = { layout, place, held, tapped };
  const doing =
    [hold, tap && `${tap} again and again`].filter((part) => part !== '').join(' and ') || 'press nothing';
  const words = `${capitalize(doing)}. Watch the ${place.name}: it ${must}; if it ${fault}, that is the fault. ${layout.seen}`;
  return framePicture(
    options,
    'watch',
    [WIDTH, top + 328],
    `Watch the ${place.name}: ${good}?`,
    words,
    ...head.map(({ text, sign }, index) => drawHeadLine(text, sign, 15 + index * LINE)),
    drawPanel(whole, drawScene(scene, whole, drawWindowEdge(whole, detail.window))),
    drawPanel(detail, drawScene(scene, detail, null)),
    drawPanelEdge(detail),
    drawMovement(movement, [168, top + 210]),
  );
}

type Scene = {
  readonly layout: Layout;
  readonly place: Place;
  readonly held: readonly Touch[];
  readonly tapped: Touch | null;
};

/** The instrument with its marks; the edge of the detail is given for the whole, and null for the detail itself. */
function drawScene({ layout, place, held, tapped }: Scene, panel: Panel, detailEdge: string | null): string {
  const room = detailEdge === null ? 5 : 3;
  const radius = ((place.box.right - place.box.left) / 2) * panel.scale + room;
  const labels = [pointLabel('watch', panel.project(place.at), radius + 2)];
  const tapPlace = tapped && layout.touches[tapped.id]!;
  if (tapPlace && sharedArea(panel.window, boxAround(tapPlace.at, tapPlace.size)) > 0) {
    labels.push(pointLabel('tap', panel.project(tapPlace.at), 14));
  }
  return [
    drawInstrument(layout, panel, detailEdge === null ? 'detail' : 'whole'),
    detailEdge ?? '',
    drawPressed(layout, panel, held),
    tapped ? drawTapped(layout, panel, tapped) : '',
    drawRing('watch', panel, place.box, room),
    drawLabels(labels, panel.size, listObstacles(layout, panel, held)),
  ].join('');
}

function pointLabel(word: string, anchor: Point, clear: number): Label {
  return { lines: [word], anchor, clear, size: 14, className: word, pointer: 'arrow' };
}

type HeadLine = { readonly text: string; readonly sign: string };

function headLines(text: string, sign: string): HeadLine[] {
  if (text === '') return [];
  return wrapText(capitalize(text), 14, WIDTH - 26).map((line, index) => ({
    text: line,
    sign: index === 0 ? sign : 'none',
  }));
}

/** A line above the picture with the sign that it explains. */
function drawHeadLine(text: string, sign: string, y: number): string {
  const at: Point = [11, y - 5];
  const signs: Readonly<Record<string, string>> = {
    pressed: path('pressed', circleData(at, 7)),
    tap: path('tap-room', circleData(at, 7)) + path('tap', circleData(at, 3)),
    watch: path('watch', circleData(at, 6.5)),
  };
  return (signs[sign] ?? '') + drawParagraph('head', [text], [28, y], 14);
}
