/** A small picture of how much the held note wavers, turn by turn. */
import { waveringInWords } from './wavering.js';

/** @typedef {import('../trials.js').Trial} Trial */

const namespace = 'http://www.w3.org/2000/svg';
/** Units of the drawing. */
const frame = { width: 320, height: 158, left: 16, right: 304, top: 26, bottom: 116 };
/** Eighths of a turn that the drawing has room for at least. */
const room = 4;

/**
 * Draws the trials, and says the same in words.
 * @param {Element} place what stood there before is taken away
 * @param {readonly Trial[]} trials by turns; at least one
 */
export function drawTrials(place, trials) {
  const most = Math.max(room, ...trials.map(({ turned }) => turned));
  const across = (/** @type {number} */ turned) =>
    frame.left + 8 + ((frame.right - frame.left - 16) * turned) / most;
  const up = (/** @type {number} */ wavering) => frame.bottom - (frame.bottom - frame.top) * wavering;
  const points = trials.map(({ turned, wavering }) => ({ x: across(turned), y: up(wavering) }));
  const ticks = [...new Set([0, ...trials.map(({ turned }) => turned)])];
  const words = trials.map((trial) => `${trial.words} it ${waveringInWords(trial.wavering)}`).join('; ');

  const picture = shape('svg', { viewBox: `0 0 ${frame.width} ${frame.height}`, role: 'img' });
  picture.setAttribute('aria-label', `How much the note wavers: ${words}.`);
  picture.append(
    text('wavers', { x: frame.left, y: frame.top - 10 }),
    shape('path', { class: 'plot-flat', d: `M${frame.left} ${frame.bottom}H${frame.right}` }),
    text('flat', { x: frame.right, y: frame.bottom - 6, 'text-anchor': 'end' }),
    ...ticks.map((turned) =>
      text(turnsInFigures(turned), { x: across(turned), y: frame.bottom + 18, 'text-anchor': 'middle' }),
    ),
    text('turned so far', { x: frame.right, y: frame.height - 8, 'text-anchor': 'end' }),
    shape('polyline', { class: 'plot-line', points: points.map(({ x, y }) => `${x},${y}`).join(' ') }),
    ...points.map(({ x, y }) => shape('circle', { class: 'plot-point', cx: x, cy: y, r: 6 })),
  );
  place.replaceChildren(picture);
}

/** @param {number} eighths such as 3, which is ⅜ */
function turnsInFigures(eighths) {
  const parts = ['', '⅛', '¼', '⅜', '½', '⅝', '¾', '⅞'];
  const whole = Math.floor(eighths / 8);
  return `${whole === 0 && eighths !== 0 ? '' : whole}${parts[eighths % 8]}`;
}

/**
 * @param {string} name
 * @param {Readonly<Record<string, string | number>>} attributes
 */
function shape(name, attributes) {
  const element = document.createElementNS(namespace, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value));
  return element;
}

/**
 * @param {string} words
 * @param {Readonly<Record<string, string | number>>} attributes
 */
function text(words, attributes) {
  const element = shape('text', attributes);
  element.textContent = words;
  return element;
}
