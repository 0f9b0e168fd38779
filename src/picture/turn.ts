import type { Instrument } from '../mechanism/index.ts';
import {
  checkReading,
  countTurns,
  DIAL_SIZE,
  type DialReading,
  directionNow,
  directionWords,
  drawDial,
} from './dial.ts';
import { framePicture, type Picture, type PictureOptions } from './frame.ts';
import { textLine } from './markup.ts';
import type { Layout } from './schema.ts';
import type { ScrewScene } from './screw-detail.ts';
import {
  drawScrewScene,
  findScrewScene,
  SCREW_COLUMN,
  SCREW_HEIGHT,
  SCREW_WIDTH,
  screwWords,
} from './screw-scene.ts';
import { eighthsWords } from './words.ts';

/** The room for the lines that say what the dial shows. */
const COUNTS_HEIGHT = 76;

/** A screw to turn, by the id of its link, and how far: all counts in eighths of a turn. */
export type TurnRequest = DialReading & { readonly link: string };

/**
 * "Turn this": the screw with its direction, the look-alike beside it crossed out, what it joins as thick lines, and a
 * dial that counts eighths of a turn up to the limit, or back to where the screw stood. Throws RangeError when the link is unknown, has no screw, or the
 * counts make no sense.
 */
export function drawTurn(
  instrument: Instrument,
  layout: Layout,
  request: TurnRequest,
  options: PictureOptions,
): Picture {
  checkReading(request);
  const { adjuster } = instrument.link(request.link);
  if (adjuster.kind !== 'screw') {
    throw new RangeError(
      `"${request.link}" is set by a ${adjuster.kind}, not by a screw; draw it with drawPart`,
    );
  }
  const scene = findScrewScene(instrument, layout, request.link);
  const now = directionNow(request);
  const heading =
    request.nowEighths < 0
      ? `Turn it back: ${directionWords(now)}.`
      : `Turn this screw ${directionWords(now)}.`;
  const way = `${request.nowEighths < 0 ? 'back ' : ''}${directionWords(now)}`;
  return framePicture(
    options,
    'turn',
    [SCREW_WIDTH, SCREW_HEIGHT],
    `Turn the screw ${way}: ${scene.screw.name}`,
    turnWords(scene, request),
    drawScrewScene(scene, now, heading, { whole: DIAL_SIZE, detail: COUNTS_HEIGHT }),
    drawDial(request, [0, SCREW_HEIGHT - DIAL_SIZE + 4]),
    ...countLines(request).map((line, index) =>
      textLine(
        index === 0 ? 'strong' : 'head',
        line,
        [SCREW_COLUMN + 4, SCREW_HEIGHT - COUNTS_HEIGHT + 18 + index * 18],
        {
          size: index === 0 ? 16 : 14,
          anchor: 'start',
        },
      ),
    ),
  );
}

/** What the dial shows, in words. */
function countLines(reading: DialReading): string[] {
  const { turn, of } = countTurns(reading);
  const { turnedEighths, limitEighths, nowEighths } = reading;
  const soFar = `so far: ${turnedEighths} of ${limitEighths} eighths`;
  const full = of > 1 ? [`(full turn ${turn} of ${of})`] : [];
  if (nowEighths === 0 && turnedEighths === limitEighths) return ['stop here', soFar, ...full];
  const inTurns = eighthsWords(Math.abs(nowEighths));
  const named = inTurns.includes('eighth') ? [] : [`that is ${inTurns}`];
  return [`now ${countWords(nowEighths)}`, ...named, soFar, endWords(reading), ...full];
}

function countWords(nowEighths: number): string {
  const size = Math.abs(nowEighths);
  return `${size} ${size > 1 ? 'eighths' : 'eighth'}${nowEighths < 0 ? ' back' : ''}`;
}

/** What comes after this turn: a test, or the end. */
function endWords({ turnedEighths, limitEighths, nowEighths }: DialReading): string {
  if (turnedEighths + nowEighths === 0) return 'then it stands as at first';
  if (turnedEighths + nowEighths === limitEighths) return 'that is the limit';
  return 'then stop and test';
}

function turnWords(scene: ScrewScene, reading: TurnRequest): string {
  const { screw, notThis } = screwWords(scene);
  const { turnedEighths, limitEighths, nowEighths } = reading;
  const isLimit = nowEighths === 0 && turnedEighths === limitEighths;
  const now = isLimit
    ? 'Stop here'
    : `Now ${countWords(nowEighths)} (${eighthsWords(Math.abs(nowEighths))}), ${endWords(reading)}`;
  return (
    `Turn ${screw} ${nowEighths < 0 ? 'back ' : ''}${directionWords(directionNow(reading))}.${notThis} ${now}. ` +
    `Turned so far: ${turnedEighths} of ${limitEighths} eighths (${eighthsWords(turnedEighths)}). ${scene.layout.seen}`
  );
}
