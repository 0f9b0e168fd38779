import type { Instrument } from '../mechanism/index.ts';
import { checkReading, countTurns, DIAL_SIZE, type DialReading, directionWords, drawDial } from './dial.ts';
import { framePicture, type Picture, type PictureOptions } from './frame.ts';
import { distance, type Point } from './geometry.ts';
import { drawLabels, drawParagraph, type Label, lineObstacles, wrapText } from './labels.ts';
import {
  drawCross,
  drawInstrument,
  drawPanelEdge,
  drawRing,
  drawScrew,
  drawWindowEdge,
  listObstacles,
} from './marks.ts';
import { circleData, lineData, path, textLine, turningArrowData } from './markup.ts';
import { createPanel, createWholePanel, drawPanel, type Panel } from './panel.ts';
import { chooseWindow, findPlace, type Place, placeOf } from './place.ts';
import type { Layout } from './schema.ts';
import { eighthsWords } from './words.ts';

/** A screw to turn, by the id of its link, and how far: all counts in eighths of a turn, in this direction. */
export type TurnRequest = DialReading & { readonly link: string };

const WIDTH = 340;
const DETAIL_HEIGHT = 250;

/**
 * "Turn this": the screw with its direction, the look-alike beside it crossed out, what it joins as thick lines, and a
 * dial that counts eighths of a turn up to the limit. Throws RangeError when the link is unknown, has no screw, or the
 * counts make no sense.
 */
export function drawTurn(
  instrument: Instrument,
  layout: Layout,
  request: TurnRequest,
  options: PictureOptions,
): Picture {
  checkReading(request);
  const link = instrument.links.find((known) => known.id === request.link);
  if (link === undefined) throw new RangeError(`${instrument.name} has no link "${request.link}"`);
  if (link.adjuster.kind !== 'screw') {
    throw new RangeError(
      `"${link.id}" is set by a ${link.adjuster.kind}, not by a screw; draw it with drawPart`,
    );
  }
  const screw = placeOf(instrument, layout, link.id);
  const lookAlike =
    link.adjuster.lookAlike === undefined ? null : findPlace(instrument, layout, link.adjuster.lookAlike);
  const { drivers, targets } = instrument.linkEnds(link.id);
  const driven = targets.map((part) => placeOf(instrument, layout, part.id));
  const driving = drivers.map((part) => placeOf(instrument, layout, part.id));
  const cups = driven.filter((place) => layout.keys[place.id] === undefined).map((place) => place.box);

  const way = directionWords(request.direction);
  const top = 48;
  const boxes = [screw.box, ...(lookAlike ? [lookAlike.box] : []), ...cups];
  const detail = createPanel([112, top], [227, DETAIL_HEIGHT], chooseWindow(boxes, 34), layout.space);
  const whole = createWholePanel([0, top], [104, DETAIL_HEIGHT], layout.space);
  const below = top + DETAIL_HEIGHT;
  const scene: Scene = { layout, screw, lookAlike, driven, driving, direction: request.direction };
  return framePicture(
    options,
    'turn',
    [WIDTH, below + DIAL_SIZE],
    `Turn the screw ${way}: ${screw.name}`,
    turnWords(scene, request),
    drawParagraph('strong', [`Turn this screw ${way}.`], [2, 17], 17),
    drawParagraph(
      'head',
      [
        cups.length > 0
          ? `It works the ${listNames(driven)}: follow its arm.`
          : `It works the ${listNames(driven)}.`,
      ],
      [2, 38],
      14,
    ),
    drawPanel(
      whole,
      drawInstrument(layout, whole, 'whole'),
      drawWindowEdge(whole, detail.window),
      drawRing('turn', whole, screw.box, 2),
    ),
    drawPanel(detail, drawDetail(scene, detail)),
    drawPanelEdge(detail),
    drawDial(request, [0, below]),
    ...countLines(request).map((line, index) =>
      textLine(index === 0 ? 'strong' : 'head', line, [DIAL_SIZE + 16, below + 52 + index * 21], {
        size: 16,
        anchor: 'start',
      }),
    ),
  );
}

/** What the dial shows, in words. */
function countLines(reading: DialReading): string[] {
  const { turn, of } = countTurns(reading);
  const left = reading.limitEighths - reading.turnedEighths;
  return [
    `${reading.turnedEighths} of ${reading.limitEighths} eighths`,
    ...(left > 0 ? ['turned so far;', `${left} left, then stop`] : ['turned: stop here']),
    ...(of > 1 ? [`(full turn ${turn} of ${of})`] : []),
  ];
}

type Scene = {
  readonly layout: Layout;
  readonly screw: Place;
  readonly lookAlike: Place | null;
  readonly driving: readonly Place[];
  readonly driven: readonly Place[];
  readonly direction: 'in' | 'out';
};

function drawDetail(scene: Scene, panel: Panel): string {
  const { layout, screw, lookAlike, driving, driven } = scene;
  const at = panel.project(screw.at);
  const other = lookAlike && panel.project(lookAlike.at);
  const radius = Math.min(13, other ? distance(at, other) * 0.3 : 13);
  const sign = scene.direction === 'in' ? 1 : -1;
  const labels: Label[] = [
    {
      lines: [`turn ${scene.direction}`],
      anchor: at,
      clear: radius + 14,
      size: 16,
      className: 'turn',
      pointer: 'line',
    },
  ];
  if (other) {
    labels.push({
      lines: ['not this one'],
      anchor: other,
      clear: radius + 8,
      size: 14,
      className: 'not',
      pointer: 'line',
    });
  }
  for (const place of driven) labels.push(nameLabel(place, panel, 'target'));
  for (const place of driving)
    labels.push(
      nameLabel(place, panel, 'driver', nearestShown(place, layout, panel, [at, ...(other ? [other] : [])])),
    );
  const thick = [...driving, ...driven].flatMap((place) =>
    armsOf(layout, place).map((arm) => arm.map(panel.project)),
  );
  return [
    drawInstrument(layout, panel, 'detail'),
    path('driver', driving.map((place) => partData(layout, panel, place)).join('')),
    path('target', driven.map((place) => partData(layout, panel, place)).join('')),
    other
      ? drawScrew('other', other, radius) +
        path('not', circleData(other, radius + 7)) +
        drawCross('cross', other, radius + 5)
      : '',
    drawScrew('screw', at, radius),
    path('turn', turningArrowData(at, radius + 9, -120 * sign, 130 * sign)),
    drawLabels(labels, panel.size, [
      ...listObstacles(layout, panel, []),
      ...thick.flatMap((line) => lineObstacles(line, 6)),
    ]),
  ].join('');
}

function armsOf(layout: Layout, { id }: Place): readonly (readonly Point[])[] {
  return layout.keys[id]?.arms ?? layout.touches[id]?.arms ?? layout.vents[id]?.arms ?? [];
}

/** The lines of a part: its arms, and its cup as a ring. */
function partData(layout: Layout, panel: Panel, place: Place): string {
  const vent = layout.vents[place.id];
  const ring = vent ? circleData(panel.project(vent.at), (vent.size / 2) * panel.scale) : '';
  return (
    armsOf(layout, place)
      .map((arm) => lineData(arm.map(panel.project)))
      .join('') + ring
  );
}

function nameLabel(place: Place, panel: Panel, className: string, anchor?: Point): Label {
  const isCup = place.id.startsWith('cup.');
  const clear = isCup ? ((place.box.right - place.box.left) / 2) * panel.scale : 4;
  return {
    lines: wrapText(place.name, 13, 74),
    anchor: anchor ?? panel.project(place.at),
    clear,
    size: 13,
    className,
    pointer: 'line',
  };
}

/** A point of the part's arms inside the panel, far from the screws, so that its name does not crowd them. */
function nearestShown(
  place: Place,
  layout: Layout,
  panel: Panel,
  avoid: readonly Point[],
): Point | undefined {
  const [width, height] = panel.size;
  const points = armsOf(layout, place).flatMap((arm) =>
    arm.slice(1).flatMap((end, index) => along(panel.project(arm[index]!), panel.project(end))),
  );
  const shown = points.filter(([x, y]) => x > 12 && y > 12 && x < width - 12 && y < height - 12);
  const room = (point: Point) => Math.min(...avoid.map((place) => distance(place, point)));
  return shown.toSorted((one, other) => room(other) - room(one))[0];
}

function along([ax, ay]: Point, [bx, by]: Point): Point[] {
  return Array.from(
    { length: 9 },
    (_, step): Point => [ax + ((bx - ax) * step) / 8, ay + ((by - ay) * step) / 8],
  );
}

function listNames(places: readonly Place[]): string {
  return places.map((place) => place.name).join(' and the ');
}

function turnWords({ layout, screw, lookAlike, driving, driven }: Scene, request: TurnRequest): string {
  const { turnedEighths, limitEighths, direction } = request;
  const others = lookAlike ? ` Not the screw beside it that looks alike (${lookAlike.name}).` : '';
  const state =
    turnedEighths === limitEighths ? 'stop here' : `${limitEighths - turnedEighths} left, then stop`;
  return (
    `Turn the screw by which the ${listNames(driving)} works the ${listNames(driven)} (${screw.name}) ` +
    `${directionWords(direction)}.${others} Turned so far: ${turnedEighths} of ${limitEighths} eighths ` +
    `(${eighthsWords(turnedEighths)}); ${state}. ${layout.seen}`
  );
}
