import type { Instrument, Touch } from '../mechanism/index.ts';
import { framePicture, type Picture, type PictureOptions } from './frame.ts';
import { boxAround, boxOver, type Point } from './geometry.ts';
import { textWidth } from './labels.ts';
import { path, pillData, textLine } from './markup.ts';
import type { Layout, TouchPlace } from './schema.ts';
import { findTouches, fingeringWords, noteWords } from './words.ts';

const MARGIN = 4;
const HEADING = 15;
const BETWEEN = 18;

export type FingeringOptions = PictureOptions & {
  /** Hands side by side, or the left hand above the right one. Default: beside. */
  readonly arrangement?: 'beside' | 'above';
};

/**
 * "Press these": the touches of both hands as the person who holds the instrument meets them, the pressed ones filled
 * and named. Throws RangeError when the fingering names an unknown touch.
 */
export function drawFingering(
  instrument: Instrument,
  layout: Layout,
  fingering: { readonly note: string; readonly touches: readonly string[] },
  options: FingeringOptions,
): Picture {
  const pressed = findTouches(instrument, fingering.touches);
  const left = drawHand(instrument, layout, 'left', pressed);
  const right = drawHand(instrument, layout, 'right', pressed);
  const isBeside = (options.arrangement ?? 'beside') === 'beside';
  const offset: Point = isBeside ? [left.width + BETWEEN, 0] : [0, left.height + BETWEEN];
  const size = isBeside
    ? ([offset[0] + right.width, Math.max(left.height, right.height)] as const)
    : ([Math.max(left.width, right.width), offset[1] + right.height] as const);
  const words = fingeringWords(instrument, fingering);
  return framePicture(
    options,
    'fingering',
    size,
    `Fingering for ${noteWords(fingering.note)}`,
    words,
    left.draw([0, 0]),
    right.draw(offset),
  );
}

type Hand = { readonly width: number; readonly height: number; readonly draw: (offset: Point) => string };

function drawHand(
  instrument: Instrument,
  layout: Layout,
  hand: Touch['hand'],
  pressed: readonly Touch[],
): Hand {
  const touches = instrument.touches.filter((touch) => touch.hand === hand);
  if (touches.length === 0) return { width: 0, height: 0, draw: () => '' };
  const placeOf = (touch: Touch) => layout.touches[touch.id]!;
  const box = boxOver(
    touches.map((touch) => boxAround(placeOf(touch).finger.at, placeOf(touch).finger.size)),
  );
  const [width, height] = [box.right - box.left + 2 * MARGIN, box.bottom - box.top + 2 * MARGIN + HEADING];
  const draw = ([offsetX, offsetY]: Point): string => {
    const put = ([x, y]: Point): Point => [
      x - box.left + MARGIN + offsetX,
      y - box.top + MARGIN + HEADING + offsetY,
    ];
    const shapes = (isPressed: boolean, isHidden: boolean) =>
      touches
        .filter(
          (touch) => pressed.includes(touch) === isPressed && (placeOf(touch).hidden ?? false) === isHidden,
        )
        .map((touch) => pillData(put(placeOf(touch).finger.at), placeOf(touch).finger.size))
        .join('');
    return [
      textLine('hand', `${hand} hand`, [offsetX + width / 2, offsetY + 11], { size: 12 }),
      path('touch', shapes(false, false)),
      path('hidden', shapes(false, true)),
      path('pressed', shapes(true, false) + shapes(true, true)),
      ...touches.filter((touch) => pressed.includes(touch)).map((touch) => drawName(placeOf(touch), put)),
    ].join('');
  };
  return { width, height, draw };
}

/** The label of a pressed touch: on it where it fits, else to its right. */
function drawName({ label, finger }: TouchPlace, put: (point: Point) => Point): string {
  const size = finger.size[1] > 20 ? 15 : 12;
  const [x, y] = put(finger.at);
  if (textWidth(label, size) <= finger.size[0]) return textLine('on', label, [x, y + size * 0.36], { size });
  return textLine('beside', label, [x + finger.size[0] / 2 + 2, y + size * 0.36], { size, anchor: 'start' });
}
