import type { Fingering, Instrument, Touch } from '../mechanism/index.ts';
import { type Hand, layHands } from './fingering.ts';
import { framePicture, type Picture, type PictureOptions } from './frame.ts';
import { boxAround, boxOver, growBox, type Point } from './geometry.ts';
import { drawParagraph, wrapText } from './labels.ts';
import { drawInstrument, drawPressed, drawWindowEdge } from './marks.ts';
import { textLine } from './markup.ts';
import { createWholePanel, drawPanel, isWide, type Panel } from './panel.ts';
import type { Layout } from './schema.ts';
import { drawPositions } from './tube-parts.ts';
import { pressWords, slidePositions } from './tube-words.ts';
import { capitalize, findTouches, noteWords } from './words.ts';

const WIDTH = 340;
const HEAD = 15;
const LINE = 20;
/** The hands stand to the right of the whole; they are the zoomed detail of it. */
const HANDS_LEFT = 190;
const HANDS_SCALE = 1.12;

/**
 * "Press these": the touches of a fingering where the hands find them on the instrument, and beside it both hands as
 * the person who holds it meets them. Throws RangeError when the fingering names an unknown touch.
 */
export function drawPress(
  instrument: Instrument,
  layout: Layout,
  fingering: Pick<Fingering, 'note' | 'touches' | 'position'>,
  options: PictureOptions,
): Picture {
  const pressed = findTouches(instrument, fingering.touches);
  const { position = 1 } = fingering;
  const head = wrapText(capitalize(pressWords(instrument, fingering)), HEAD, WIDTH - 8);
  const top = head.length * LINE + 4;
  const arrangement = isWide(layout.space) ? 'beside' : 'above';
  const hands = layHands(instrument, layout, fingering, arrangement, { shapes: HANDS_SCALE, letters: 1 });
  const { whole, height, handsAt } = layWhole(layout, hands, top);
  return framePicture(
    options,
    'press',
    [WIDTH, top + height + 2],
    `Fingering for ${noteWords(fingering.note)}`,
    `${capitalize(pressWords(instrument, fingering))}. ${layout.seen}`,
    drawParagraph('strong', head, [2, 15], HEAD),
    drawPanel(
      whole,
      drawInstrument(layout, whole, 'whole', position),
      ...(['left', 'right'] as const).map((hand) => drawHandArea(instrument, layout, whole, hand)),
      drawPressed(layout, whole, pressed),
      drawPositions(layout, whole, slidePositions(instrument), position),
    ),
    hands.draw(handsAt),
  );
}

/** The whole beside the hands, or above them where it is wider than tall. */
function layWhole(
  layout: Layout,
  hands: Hand,
  top: number,
): { whole: Panel; height: number; handsAt: Point } {
  if (!isWide(layout.space)) {
    const high = Math.min(370, Math.ceil(((HANDS_LEFT - 10) * layout.space[1]) / layout.space[0]) + 4);
    const height = Math.max(high, hands.height);
    const whole = createWholePanel([0, top], [HANDS_LEFT - 10, height], layout.space);
    return { whole, height, handsAt: [HANDS_LEFT, top + (height - hands.height) / 2] };
  }
  const high = Math.min(200, (WIDTH * layout.space[1]) / layout.space[0]);
  const whole = createWholePanel([0, top], [WIDTH, high], layout.space);
  return { whole, height: high + 10 + hands.height, handsAt: [(WIDTH - hands.width) / 2, top + high + 10] };
}

/** Where one hand lies on the instrument, as a dashed box with its name. */
function drawHandArea(instrument: Instrument, layout: Layout, panel: Panel, hand: Touch['hand']): string {
  const places = instrument.touches
    .filter((touch) => touch.hand === hand)
    .map(({ id }) => boxAround(layout.touches[id]!.at, layout.touches[id]!.size));
  if (places.length === 0) return '';
  const area = growBox(boxOver(places), 10);
  const [right, top] = panel.project([area.right, area.top]);
  return (
    drawWindowEdge(panel, area) +
    textLine('name-word', hand, [right + 4, top + 12], { size: 13.5, anchor: 'start' })
  );
}
