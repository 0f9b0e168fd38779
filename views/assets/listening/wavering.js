/** How much a held note wavers: one figure for a take, of no unit, to be compared with itself turn by turn. */
import { hasPitch } from './judge.js';
import { beatDepth, middleRange } from './measures.js';
import { thresholds } from './thresholds.js';

/** @typedef {import('./frames.js').Frame} Frame */

/** Cents of pitch that count as wavering through and through: a semitone. Estimate. */
const widest = 100;

/** From which wavering which word is used. Estimates; players' vibrato reaches the third. */
const words = /** @type {const} */ ([
  [0.6, 'wavers strongly'],
  [0.35, 'wavers clearly'],
  [0.15, 'wavers a little'],
  [0, 'hardly wavers'],
]);

/**
 * The greatest of four things, each from 0 (steady) to 1: how far the pitch goes (a semitone is all), how deeply the
 * loudness beats, how much the next register comes and goes, and how much of the note is missing.
 * @param {readonly Frame[]} take the frames of the held note
 * @returns {number | null} null where too little of a note was heard
 */
export function waveringOf(take) {
  const body = take.slice(Math.floor(take.length * thresholds.attack));
  const pitched = body.filter(hasPitch);
  const spoken = pitched.length / Math.max(1, body.length);
  if (take.length < thresholds.frames || spoken < thresholds.spoken) return null;
  const cents = pitched.map(({ frequency }) => 1200 * Math.log2(frequency));
  const figures = [
    middleRange(cents) / widest,
    beatDepth(body.map(({ level }) => level)),
    middleRange(pitched.map(({ upper }) => upper)),
    1 - spoken,
  ];
  return Math.min(1, Math.max(...figures));
}

/**
 * @param {number} wavering 0 to 1
 * @returns {string} such as "wavers a little"
 */
export function waveringInWords(wavering) {
  return (words.find(([from]) => wavering >= from) ?? words[0])[1];
}
