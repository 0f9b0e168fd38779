import type { Fingering, Instrument, Touch } from '../mechanism/index.ts';
import { framePicture, type Picture, type PictureOptions } from './frame.ts';
import { boxAround, boxOver, type Point, type Size } from './geometry.ts';
import { textWidth } from './labels.ts';
import { circleData, path, pillData, textLine } from './markup.ts';
import type { Layout } from './schema.ts';
import { fingeringWords, slidePositions } from './tube-words.ts';
import { findTouches, noteWords } from './words.ts';

const MARGIN = 4;
const HEADING = 15;
const BETWEEN = 18;
const HAND_NAME = 13.7;

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
  fingering: Pick<Fingering, 'note' | 'touches' | 'position'>,
  options: FingeringOptions,
): Picture {
  const hands = layHands(instrument, layout, fingering, options.arrangement ?? 'beside', 1);
  return framePicture(
    options,
    'fingering',
    [hands.width, hands.height],
    `Fingering for ${noteWords(fingering.note)}`,
    fingeringWords(instrument, fingering),
    hands.draw([0, 0]),
  );
}

/**
 * The touches of both hands, or of the one that the instrument needs, to be put into a picture; `scale` is in picture
 * units per layout unit. Throws RangeError when a touch is unknown.
 */
export function layHands(
  instrument: Instrument,
  layout: Layout,
  { touches, position = 1 }: Pick<Fingering, 'touches' | 'position'>,
  arrangement: 'beside' | 'above',
  scale: number,
): Hand {
  const pressed = findTouches(instrument, touches);
  const slide = layPositions(slidePositions(instrument), position, scale);
  const [left = null, right = null] = (['left', 'right'] as const).map((hand) =>
    layHand(instrument, layout, hand, pressed, scale),
  );
  const parts = [left, right, slide].filter((part) => part !== null);
  return parts.reduce((all, part) => (all === NOTHING ? part : layTogether(all, part, arrangement)), NOTHING);
}

const NOTHING: Hand = { width: 0, height: 0, draw: () => '' };

function layTogether(one: Hand, other: Hand, arrangement: 'beside' | 'above'): Hand {
  const [x, y]: Point = arrangement === 'beside' ? [one.width + BETWEEN, 0] : [0, one.height + BETWEEN];
  return {
    width: Math.max(one.width, x + other.width),
    height: Math.max(one.height, y + other.height),
    draw: ([atX, atY]) => one.draw([atX, atY]) + other.draw([atX + x, atY + y]),
  };
}

/** Where the slide stands, as a row of its positions with the one that is played filled; null where nothing is drawn. */
function layPositions(count: number, position: number, scale: number): Hand | null {
  if (count === 1) return null;
  const step = STOP * 1.25 * scale;
  const width = count * step + 2 * MARGIN;
  return {
    width,
    height: HEADING + STOP * scale + 2 * MARGIN,
    draw: ([x, y]) => {
      const middle = (index: number): Point => [
        x + MARGIN + step * (index + 0.5),
        y + HEADING + MARGIN + (STOP * scale) / 2,
      ];
      const stops = Array.from({ length: count }, (_, index) => index);
      const size = (STOP / 2) * scale;
      return [
        textLine('hand', 'slide position', [x + width / 2, y + 11], { size: HAND_NAME * scale }),
        path(
          'touch',
          stops.map((index) => (index + 1 === position ? '' : circleData(middle(index), size))).join(''),
        ),
        path('pressed', circleData(middle(position - 1), size)),
        ...stops.map((index) => {
          const [atX, atY] = middle(index);
          const look = index + 1 === position ? 'on' : 'at-rest';
          return textLine(look, String(index + 1), [atX, atY + 5 * scale], { size: 14 * scale });
        }),
      ].join('');
    },
  };
}

/** Across one position in the row. */
const STOP = 22;

/** One hand or both, laid out; `offset` is the upper left corner. */
export type Hand = {
  readonly width: number;
  readonly height: number;
  readonly draw: (offset: Point) => string;
};

function layHand(
  instrument: Instrument,
  layout: Layout,
  hand: Touch['hand'],
  pressed: readonly Touch[],
  scale: number,
): Hand | null {
  const touches = instrument.touches.filter((touch) => touch.hand === hand);
  if (touches.length === 0) return null;
  const placeOf = (touch: Touch) => layout.touches[touch.id]!;
  const sizeOf = (touch: Touch): Size => {
    const [width, height] = placeOf(touch).finger.size;
    return [width * scale, height * scale];
  };
  const scaled = ([x, y]: Point): Point => [x * scale, y * scale];
  const box = boxOver(touches.map((touch) => boxAround(scaled(placeOf(touch).finger.at), sizeOf(touch))));
  const name = `${hand} hand`;
  const ownWidth = box.right - box.left + 2 * MARGIN;
  // One lever alone is narrower than the name above it, which may reach over the margins.
  const width = Math.max(ownWidth, Math.ceil(textWidth(name, HAND_NAME * scale, 'plain')) - MARGIN);
  const height = box.bottom - box.top + 2 * MARGIN + HEADING;
  const draw = ([offsetX, offsetY]: Point): string => {
    const put = (point: Point): Point => {
      const [x, y] = scaled(point);
      const inset = MARGIN + Math.floor((width - ownWidth) / 2);
      return [x - box.left + inset + offsetX, y - box.top + MARGIN + HEADING + offsetY];
    };
    const shapes = (isPressed: boolean, isHidden: boolean) =>
      touches
        .filter(
          (touch) => pressed.includes(touch) === isPressed && (placeOf(touch).hidden ?? false) === isHidden,
        )
        .map((touch) => pillData(put(placeOf(touch).finger.at), sizeOf(touch)))
        .join('');
    return [
      textLine('hand', name, [offsetX + width / 2, offsetY + 11], {
        size: HAND_NAME * scale,
      }),
      path('touch', shapes(false, false)),
      path('hidden', shapes(false, true)),
      path('pressed', shapes(true, false) + shapes(true, true)),
      ...touches
        .filter((touch) => pressed.includes(touch))
        .map((touch) => drawName(placeOf(touch).label, put(placeOf(touch).finger.at), sizeOf(touch), scale)),
    ].join('');
  };
  return { width, height, draw };
}

/** The label of a pressed touch: on it where it fits, else to its right. */
function drawName(label: string, [x, y]: Point, [width, height]: Size, scale: number): string {
  const size = height > 20 ? 15 : 13.7 * scale;
  if (textWidth(label, size) <= width) return textLine('on', label, [x, y + size * 0.36], { size });
  return textLine('beside', label, [x + width / 2 + 2, y + size * 0.36], { size, anchor: 'start' });
}
