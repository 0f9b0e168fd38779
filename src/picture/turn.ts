import type { Instrument } from '../mechanism/index.ts';
import { checkReading, countTurns, DIAL_SIZE, type DialReading, directionWords, drawDial } from './dial.ts';
import { framePicture, type Picture, type PictureOptions } from './frame.ts';
import { drawParagraph } from './labels.ts';
import { drawInstrument, drawPanelEdge, drawRing, drawWindowEdge } from './marks.ts';
import { textLine } from './markup.ts';
import { createPanel, createWholePanel, drawPanel } from './panel.ts';
import { chooseWindow, findPlace, type Place, placeOf } from './place.ts';
import type { Layout } from './schema.ts';
import { drawTurnDetail, type TurnScene } from './turn-detail.ts';
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
  const scene: TurnScene = { layout, screw, lookAlike, driven, driving, direction: request.direction };
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
    drawPanel(detail, drawTurnDetail(scene, detail)),
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

function listNames(places: readonly Place[]): string {
  return places.map((place) => place.name).join(' and the ');
}

function turnWords({ layout, screw, lookAlike, driving, driven }: TurnScene, request: TurnRequest): string {
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
