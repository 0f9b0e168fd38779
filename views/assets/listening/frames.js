/** From samples to frames: what pitch, how clear, how loud, every 8 milliseconds. No browser needed. */
import { PitchDetector } from 'pitchy';
import { frameStep } from './thresholds.js';

/**
 * What is measured at one moment of a take.
 * @typedef {object} Frame
 * @property {number} time seconds from the first sample
 * @property {number} frequency of the fundamental in hertz; 0 where none was found
 * @property {number} clarity height of the peak of the McLeod pitch method, 0 to 1
 * @property {number} level root mean square over about two periods; 1 is full scale
 * @property {number} upper share (0 to 1) of the sound that belongs to the next register of the note asked for
 */

/** Periods that a window holds at least, of a note a fifth below the one asked for: the method needs three or so. */
const periods = 3;
const fifth = 1.5;
/** Shortest and longest window in seconds: steady enough, and short enough to follow eight beats a second. */
const windows = { shortest: 0.02, longest: 0.18 };
/** Rumble is what lies below the expected frequency divided by this (a filter of first order). */
const rumbleBelow = 4;

/**
 * Takes samples in pieces of any length and gives frames.
 *
 * The pitch is found by the McLeod pitch method (McLeod and Wyvill, ICMC 2005; library pitchy), its `k` at 0.9.
 */
export class FrameReader {
  /**
   * @param {number} rate samples a second
   * @param {number} expected frequency in hertz of the note asked for; windows follow from it
   * @param {number} mode how many times as high the next register is: 2 for an octave, 3 for a twelfth
   * @throws {RangeError} when the rate or the frequency is no positive number
   */
  constructor(rate, expected, mode = 2) {
    if (!(rate > 0) || !(expected > 0))
      throw new RangeError('A rate and a frequency above nothing are needed.');
    this.rate = rate;
    this.expected = expected;
    this.mode = mode;
    const wanted = (periods * fifth * rate) / expected;
    this.size = ceilToPowerOfTwo(Math.min(Math.max(wanted, windows.shortest * rate), windows.longest * rate));
    this.detector = PitchDetector.forFloat32Array(this.size);
    this.detector.clarityThreshold = 0.9;
    this.step = Math.round(rate * frameStep);
    /** @type {Float32Array} */
    this.rest = new Float32Array(0);
    this.dropped = 0;
    this.rumble = 1 - Math.exp((-2 * Math.PI * (expected / rumbleBelow)) / rate);
    this.low = 0;
  }

  /**
   * @param {ArrayLike<number>} samples the next ones, without a gap
   * @returns {Frame[]} the frames that have become complete
   */
  push(samples) {
    const all = new Float32Array(this.rest.length + samples.length);
    all.set(this.rest);
    for (let at = 0; at < samples.length; at += 1)
      all[this.rest.length + at] = this.withoutRumble(samples[at] ?? 0);
    /** @type {Frame[]} */
    const frames = [];
    let start = 0;
    for (; start + this.size <= all.length; start += this.step) {
      frames.push(this.measure(all.subarray(start, start + this.size), (this.dropped + start) / this.rate));
    }
    this.rest = all.slice(start);
    this.dropped += start;
    return frames;
  }

  /**
   * What lies far below the note, and an offset of the microphone, would keep the pitch method from seeing any period:
   * it counts from where the signal crosses nothing.
   * @private
   * @param {number} sample
   */
  withoutRumble(sample) {
    this.low += this.rumble * (sample - this.low);
    return sample - this.low;
  }

  /**
   * @private
   * @param {Float32Array} window
   * @param {number} time
   * @returns {Frame}
   */
  measure(window, time) {
    const [frequency, clarity] = this.detector.findPitch(window, this.rate);
    const period = this.rate / this.fundamental(frequency);
    const middle = Math.floor(window.length / 2);
    const half = Math.min(middle, Math.ceil(period));
    return {
      time: time + middle / this.rate,
      frequency,
      clarity,
      level: rootMeanSquare(window.subarray(middle - half, middle + half)),
      upper: upperShare(window, period, this.mode),
    };
  }

  /**
   * The frequency of the lower register that a frame belongs to: of the note itself, also where its next register sounds.
   * @private
   * @param {number} frequency
   */
  fundamental(frequency) {
    const isNear = (/** @type {number} */ other) => Math.abs(1200 * Math.log2(frequency / other)) < 100;
    if (isNear(this.expected)) return frequency;
    if (isNear(this.expected * this.mode)) return frequency / this.mode;
    return this.expected;
  }
}

/**
 * The share of the sound in every `mode`-th harmonic, by a comb: the mean of the signal over `mode` equal parts of its
 * period keeps those harmonics and cancels the others. It stays put while a tone only grows or shrinks, and swings when
 * the tone changes between registers.
 * @param {Float32Array} window
 * @param {number} period of the lower register, in samples
 * @param {number} mode
 */
function upperShare(window, period, mode) {
  const reach = Math.ceil((period * (mode - 1)) / mode) + 1;
  let kept = 0;
  let whole = 0;
  for (let at = reach; at < window.length; at += 1) {
    let sum = 0;
    for (let part = 0; part < mode; part += 1) {
      const place = at - (part * period) / mode;
      const before = Math.floor(place);
      const low = window[before] ?? 0;
      sum += low + ((window[before + 1] ?? low) - low) * (place - before);
    }
    kept += (sum / mode) ** 2;
    whole += (window[at] ?? 0) ** 2;
  }
  return whole === 0 ? 0 : Math.min(1, kept / whole);
}

/** @param {Float32Array} samples */
function rootMeanSquare(samples) {
  let sum = 0;
  for (const sample of samples) sum += sample * sample;
  return samples.length === 0 ? 0 : Math.sqrt(sum / samples.length);
}

/** @param {number} number */
function ceilToPowerOfTwo(number) {
  return 2 ** Math.ceil(Math.log2(number));
}
