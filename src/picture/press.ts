import type { Instrument, Touch } from '../mechanism/index.ts';
import { layHands } from './fingering.ts';
import { framePicture, type Picture, type PictureOptions } from './frame.ts';
import { boxAround, boxOver, growBox } from './geometry.ts';
import { drawParagraph, wrapText } from './labels.ts';
import { drawInstrument, drawPressed, drawWindowEdge } from './marks.ts';
import { textLine } from './markup.ts';
import { createWholePanel, drawPanel, type Panel } from './panel.ts';
import type { Layout } from './schema.ts';
import { capitalize, findTouches, fingeringWords, noteWords, touchesWords } from './words.ts';

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
  fingering: { readonly note: string; readonly touches: readonly string[] },
  options: PictureOptions,
): Picture {
  const pressed = findTouches(instrument, fingering.touches);
  const head = wrapText(capitalize(`press ${touchesWords(instrument, fingering.touches)}`), HEAD, WIDTH - 8);
  const top = head.length * LINE + 4;
  const hands = layHands(instrument, layout, fingering.touches, 'above', HANDS_SCALE);
  const height = Math.max(370, hands.height);
  const whole = createWholePanel([0, top], [HANDS_LEFT - 10, height], layout.space);
  return framePicture(
    options,
    'press',
    [WIDTH, top + height + 2],
    `Fingering for ${noteWords(fingering.note)}`,
    `Press ${lowerFirst(fingeringWords(instrument, fingering))}. ${layout.seen}`,
    drawParagraph('strong', head, [2, 15], HEAD),
    drawPanel(
      whole,
      drawInstrument(layout, whole, 'whole'),
      ...(['left', 'right'] as const).map((hand) => drawHandArea(instrument, layout, whole, hand)),
      drawPressed(layout, whole, pressed),
    ),
    hands.draw([HANDS_LEFT, top + (height - hands.height) / 2]),
  );
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

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}
