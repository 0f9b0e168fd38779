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
/** A picture of this width shows its letters at 12 px where a play test is shown on a phone; in a wider one they grow with it. */
const PLAIN_WIDTH = 173;

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
  const lay = (letters: number) =>
    layHands(instrument, layout, fingering, options.arrangement ?? 'beside', { shapes: 1, letters });
  const growthOf = ({ width }: Hand): number => Math.max(1, width / PLAIN_WIDTH);
  let hands = lay(1);
  let growth = 1;
  // Grown names can make a hand a little wider in their turn.
  for (let round = 0; round < 4 && growthOf(hands) !== growth; round += 1) {
    growth = growthOf(hands);
    hands = lay(growth);
  }
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
 * How large shapes are drawn, in picture units per layout unit, and how much larger their letters than is usual for that size.
 * Touches lie as much further apart from top to bottom, so that the letters have room; from side to side there is none.
 */
export type HandScale = { readonly shapes: number; readonly letters: number };

/**
 * The touches of both hands, or of the one that the instrument needs, to be put into a picture; below them where a slide
 * stands, which is played by the whole arm. Throws RangeError when a touch is unknown.
 */
export function layHands(
  instrument: Instrument,
  layout: Layout,
  { touches, position = 1 }: Pick<Fingering, 'touches' | 'position'>,
  arrangement: 'beside' | 'above',
  scale: HandScale,
): Hand {
  const pressed = findTouches(instrument, touches);
  const slide = layPositions(slidePositions(instrument), position, scale);
  const [left = null, right = null] = (['left', 'right'] as const).map((hand) =>
    layHand(instrument, layout, hand, pressed, scale),
  );
  return layTogether(layTogether(left, right, arrangement), slide, 'above') ?? NOTHING;
}

const NOTHING: Hand = { width: 0, height: 0, draw: () => '' };

function layTogether(one: Hand | null, other: Hand | null, arrangement: 'beside' | 'above'): Hand | null {
  if (one === null || other === null) return one ?? other;
  const [x, y]: Point = arrangement === 'beside' ? [one.width + BETWEEN, 0] : [0, one.height + BETWEEN];
  return {
    width: Math.max(one.width, x + other.width),
    height: Math.max(one.height, y + other.height),
    draw: ([atX, atY]) => one.draw([atX, atY]) + other.draw([atX + x, atY + y]),
  };
}

/** Where the slide stands, as a row of its positions with the one that is played filled; null where nothing is drawn. */
function layPositions(count: number, position: number, scale: HandScale): Hand | null {
  if (count === 1) return null;
  const { shapes } = scale;
  const heading = headingOf(scale);
  const step = STOP * 1.25 * shapes;
  const width = count * step + 2 * MARGIN;
  return {
    width,
    height: heading + STOP * shapes + 2 * MARGIN,
    draw: ([x, y]) => {
      const middle = (index: number): Point => [
        x + MARGIN + step * (index + 0.5),
        y + heading + MARGIN + (STOP * shapes) / 2,
      ];
      const stops = Array.from({ length: count }, (_, index) => index);
      const size = (STOP / 2) * shapes;
      return [
        textLine('hand', 'slide position', [x + width / 2, y + heading - 4], {
          size: letterSize(HAND_NAME, scale),
        }),
        path(
          'touch',
          stops.map((index) => (index + 1 === position ? '' : circleData(middle(index), size))).join(''),
        ),
        path('pressed', circleData(middle(position - 1), size)),
        ...stops.map((index) => {
          const [atX, atY] = middle(index);
          const look = index + 1 === position ? 'on' : 'at-rest';
          const letter = letterSize(14, scale);
          return textLine(look, String(index + 1), [atX, atY + letter * 0.36], { size: letter });
        }),
      ].join('');
    },
  };
}

/** Across one position in the row. */
const STOP = 22;

function letterSize(size: number, { shapes, letters }: HandScale): number {
  return size * shapes * letters;
}

/** The height of the line that names a hand. */
function headingOf({ letters }: HandScale): number {
  return HEADING * letters;
}

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
  scale: HandScale,
): Hand | null {
  const touches = instrument.touches.filter((touch) => touch.hand === hand);
  if (touches.length === 0) return null;
  const placeOf = (touch: Touch) => layout.touches[touch.id]!;
  const { shapes: across, letters } = scale;
  const down = across * letters;
  const sizeOf = (touch: Touch): Size => {
    const [width, height] = placeOf(touch).finger.size;
    return [width * across, Math.min(height * down, Math.max(width, height) * across)];
  };
  /** A pressed touch is as wide as its letters need where they have grown. */
  const pressedSizeOf = (touch: Touch): Size => {
    const [width, height] = sizeOf(touch);
    const needed = textWidth(placeOf(touch).label, labelSize(height, scale)) + 2 * MARGIN;
    return [letters === 1 ? width : Math.max(width, needed), height];
  };
  const scaled = ([x, y]: Point): Point => [x * across, y * down];
  const heading = headingOf(scale);
  const box = boxOver(touches.map((touch) => boxAround(scaled(placeOf(touch).finger.at), sizeOf(touch))));
  const name = `${hand} hand`;
  const ownWidth = box.right - box.left + 2 * MARGIN;
  // One lever alone is narrower than the name above it, which may reach over the margins.
  const width = Math.max(
    ownWidth,
    Math.ceil(textWidth(name, letterSize(HAND_NAME, scale), 'plain')) - MARGIN,
  );
  const height = box.bottom - box.top + 2 * MARGIN + heading;
  const draw = ([offsetX, offsetY]: Point): string => {
    /** The middle of a touch of this size, within the hand. */
    const put = (touch: Touch, [wide]: Size): Point => {
      const [x, y] = scaled(placeOf(touch).finger.at);
      const middle = x - box.left + MARGIN + Math.floor((width - ownWidth) / 2);
      return [
        offsetX + Math.min(Math.max(middle, wide / 2), width - wide / 2),
        offsetY + y - box.top + MARGIN + heading,
      ];
    };
    const outlines = (isPressed: boolean, isHidden: boolean) =>
      touches
        .filter(
          (touch) => pressed.includes(touch) === isPressed && (placeOf(touch).hidden ?? false) === isHidden,
        )
        .map((touch) => {
          const size = isPressed ? pressedSizeOf(touch) : sizeOf(touch);
          return pillData(put(touch, size), size);
        })
        .join('');
    return [
      textLine('hand', name, [offsetX + width / 2, offsetY + heading - 4], {
        size: letterSize(HAND_NAME, scale),
      }),
      path('touch', outlines(false, false)),
      path('hidden', outlines(false, true)),
      path('pressed', outlines(true, false) + outlines(true, true)),
      ...touches
        .filter((touch) => pressed.includes(touch))
        .map((touch) => {
          const size = pressedSizeOf(touch);
          return drawName(placeOf(touch).label, put(touch, size), size, scale);
        }),
    ].join('');
  };
  return { width, height, draw };
}

function labelSize(height: number, scale: HandScale): number {
  return height > 20 ? 15 * scale.letters : letterSize(HAND_NAME, scale);
}

/** The label of a pressed touch: on it where it fits, else to its right. */
function drawName(label: string, [x, y]: Point, [width, height]: Size, scale: HandScale): string {
  const size = labelSize(height, scale);
  if (textWidth(label, size) <= width) return textLine('on', label, [x, y + size * 0.36], { size });
  return textLine('beside', label, [x + width / 2 + 2, y + size * 0.36], { size, anchor: 'start' });
}
