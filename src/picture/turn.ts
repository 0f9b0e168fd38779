import type { Instrument } from '../mechanism/index.ts';
import { checkReading, countTurns, DIAL_SIZE, type DialReading, directionWords, drawDial } from './dial.ts';
import { framePicture, type Picture, type PictureOptions } from './frame.ts';
import { textLine } from './markup.ts';
import type { Layout } from './schema.ts';
import type { ScrewScene } from './screw-detail.ts';
import { drawScrewScene, findScrewScene, SCREW_HEIGHT, SCREW_WIDTH, screwWords } from './screw-scene.ts';
import { eighthsWords } from './words.ts';

/** A screw to turn, by the id of its link, and how far: all counts in eighths of a turn, in this direction. */
export type TurnRequest = DialReading & { readonly link: string };

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
  const { adjuster } = instrument.link(request.link);
  if (adjuster.kind !== 'screw') {
    throw new RangeError(
      `"${request.link}" is set by a ${adjuster.kind}, not by a screw; draw it with drawPart`,
    );
  }
  const scene = findScrewScene(instrument, layout, request.link);
  const way = directionWords(request.direction);
  return framePicture(
    options,
    'turn',
    [SCREW_WIDTH, SCREW_HEIGHT + DIAL_SIZE],
    `Turn the screw ${way}: ${scene.screw.name}`,
    turnWords(scene, request),
    drawScrewScene(scene, request.direction, `Turn this screw ${way}.`),
    drawDial(request, [0, SCREW_HEIGHT]),
    ...countLines(request).map((line, index) =>
      textLine(index === 0 ? 'strong' : 'head', line, [DIAL_SIZE + 16, SCREW_HEIGHT + 52 + index * 21], {
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

function turnWords(scene: ScrewScene, { turnedEighths, limitEighths, direction }: TurnRequest): string {
  const { screw, notThis } = screwWords(scene);
  const state =
    turnedEighths === limitEighths ? 'stop here' : `${limitEighths - turnedEighths} left, then stop`;
  return (
    `Turn ${screw} ${directionWords(direction)}.${notThis} Turned so far: ${turnedEighths} of ${limitEighths} eighths ` +
    `(${eighthsWords(turnedEighths)}); ${state}. ${scene.layout.seen}`
  );
}
