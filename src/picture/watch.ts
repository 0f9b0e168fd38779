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
import { createPanel, createWholePanel, drawPanel, type Panel } from './panel.ts';
import { chooseWindow, type Place, placeOf } from './place.ts';
import type { Layout } from './schema.ts';
import { drawSideViews, SIDE_VIEWS_HEIGHT } from './side-view.ts';
import { describeSight, type Sight } from './sight.ts';
import { capitalize, findTouches, touchesWords, touchWords } from './words.ts';

/**
 * A check with eyes and fingers: touches to hold, a touch to tap meanwhile, the vent to watch, another to compare it
 * with (all ids), and what there is to see; without a sight, what the touches do to the vent.
 */
export type WatchRequest = {
  readonly hold: readonly string[];
  readonly watch: string;
  readonly tap?: string;
  readonly beside?: string;
  readonly sight?: Sight;
};

const WIDTH = 340;
const LINE = 20;
const HEAD = 15;
const DETAIL_LEFT = 150;
const DETAIL_HEIGHT = 148;
const WHOLE_HEIGHT = DETAIL_HEIGHT + 6 + SIDE_VIEWS_HEIGHT;

/**
 * "Watch this": the whole instrument with the held touches and the watched cup, a detail of the cup's neighbourhood,
 * and views from the side of what to look for. Throws RangeError when an id is unknown.
 */
export function drawWatch(
  instrument: Instrument,
  layout: Layout,
  request: WatchRequest,
  options: PictureOptions,
): Picture {
  const places = [request.watch, ...(request.beside === undefined ? [] : [request.beside])].map((id) =>
    placeOf(instrument, layout, id),
  );
  const [place, beside] = [places[0]!, places[1]];
  const held = findTouches(instrument, request.hold);
  const tapped = request.tap === undefined ? null : findTouches(instrument, [request.tap])[0]!;
  const sight = describeSight(request.sight ?? 'moves', {
    ...request,
    instrument,
    name: place.name,
    beside: beside?.name ?? null,
  });

  const hold = held.length > 0 ? `hold ${touchesWords(instrument, request.hold)}` : '';
  const tap = tapped ? `tap ${touchWords(instrument, tapped)}` : '';
  const nothing = hold === '' && tap === '' && sight.isAtRest ? 'press nothing' : '';
  const head = [
    ...headLines(hold, 'pressed'),
    ...headLines(tap, 'tap'),
    ...headLines(nothing, 'none'),
    ...headLines(sight.head, 'watch'),
  ];
  const top = head.length * LINE + 4;

  const whole = createWholePanel([0, top], [146, WHOLE_HEIGHT], layout.space);
  const boxes = places.map(({ box }) => box);
  const detail = createPanel(
    [DETAIL_LEFT, top],
    [WIDTH - DETAIL_LEFT - 1, DETAIL_HEIGHT],
    chooseWindow(boxes, 30),
    layout.space,
  );
  const scene: Scene = { layout, places, held, tapped, word: sight.label };
  const doing =
    [hold, tap && `${tap} again and again`].filter((part) => part !== '').join(' and ') || nothing;
  const words = [doing && `${capitalize(doing)}.`, sight.must, layout.seen]
    .filter((part) => part !== '')
    .join(' ');
  return framePicture(
    options,
    'watch',
    [WIDTH, top + WHOLE_HEIGHT + 2],
    capitalize(sight.head),
    words,
    ...head.map(({ text, sign }, index) => drawHeadLine(text, sign, 15 + index * LINE)),
    drawPanel(whole, drawScene(scene, whole, drawWindowEdge(whole, detail.window))),
    drawPanel(detail, drawScene(scene, detail, null)),
    drawPanelEdge(detail),
    drawSideViews(sight.views, [DETAIL_LEFT, top + DETAIL_HEIGHT + 6], WIDTH - DETAIL_LEFT - 1),
  );
}

type Scene = {
  readonly layout: Layout;
  readonly places: readonly Place[];
  readonly held: readonly Touch[];
  readonly tapped: Touch | null;
  /** The word at the ring. */
  readonly word: string;
};

/** The instrument with its marks; the edge of the detail is given for the whole, and null for the detail itself. */
function drawScene(scene: Scene, panel: Panel, detailEdge: string | null): string {
  const { layout, places, held, tapped, word } = scene;
  const room = detailEdge === null ? 5 : 3;
  const labels = places.map((place) => {
    const radius = ((place.box.right - place.box.left) / 2) * panel.scale + room;
    return pointLabel('watch', word, panel.project(place.at), Math.max(6, radius) + 2);
  });
  const tapPlace = tapped && layout.touches[tapped.id]!;
  if (tapPlace && sharedArea(panel.window, boxAround(tapPlace.at, tapPlace.size)) > 0) {
    labels.push(pointLabel('tap', 'tap', panel.project(tapPlace.at), 14));
  }
  return [
    drawInstrument(layout, panel, detailEdge === null ? 'detail' : 'whole'),
    detailEdge ?? '',
    drawPressed(layout, panel, held),
    tapped ? drawTapped(layout, panel, tapped) : '',
    ...places.map((place) => drawRing('watch', panel, place.box, room)),
    drawLabels(labels, panel.size, listObstacles(layout, panel, held)),
  ].join('');
}

function pointLabel(className: string, word: string, anchor: Point, clear: number): Label {
  return { lines: [word], anchor, clear, size: 14, className, pointer: 'arrow' };
}

type HeadLine = { readonly text: string; readonly sign: string };

function headLines(text: string, sign: string): HeadLine[] {
  if (text === '') return [];
  return wrapText(capitalize(text), HEAD, WIDTH - 26, 'plain').map((line, index) => ({
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
  return (signs[sign] ?? '') + drawParagraph('head', [text], [28, y], HEAD);
}
