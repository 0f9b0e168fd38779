/** Which frames belong to one take: from where a note begins until it has been held long enough, ends, or never comes. */
import { hasPitch } from './judge.js';
import { frameStep, thresholds } from './thresholds.js';

/** @typedef {import('./frames.js').Frame} Frame */

/** Seconds; estimates. */
const waits = {
  /** Until a note has to begin. */
  beginning: 6,
  /** That a note is listened to. */
  held: 2,
  /** Of quiet after which a note has ended. */
  quiet: 0.5,
};
/** So many pitched frames on end are the beginning of a note, and no click of a key. */
const beginning = 5;

export class Take {
  /** @param {number} held seconds that a note is listened to */
  constructor(held = waits.held) {
    this.held = held;
    /** @type {Frame[]} all that was heard */
    this.frames = [];
    /** Place of the frame where the note begins; null before it does. @type {number | null} */
    this.start = null;
    this.isDone = false;
    this.pitchedOnEnd = 0;
    this.quietOnEnd = 0;
  }

  /**
   * Adds what was heard next; what comes after the end of the take is left out.
   * @param {readonly Frame[]} frames
   */
  add(frames) {
    for (const frame of frames) if (!this.isDone) this.addOne(frame);
  }

  /** The frames to be judged: of the note, or all where none began. */
  get heard() {
    if (this.start === null) return this.frames;
    return this.frames.slice(this.start, this.frames.length - this.quietOnEnd);
  }

  /**
   * @private
   * @param {Frame} frame
   */
  addOne(frame) {
    this.frames.push(frame);
    this.pitchedOnEnd = hasPitch(frame) ? this.pitchedOnEnd + 1 : 0;
    this.quietOnEnd = frame.level < thresholds.level ? this.quietOnEnd + 1 : 0;
    if (this.start === null) {
      if (this.pitchedOnEnd >= beginning) this.start = this.frames.length - beginning;
      else this.isDone = this.frames.length * frameStep >= waits.beginning;
      return;
    }
    const length = this.frames.length - this.start;
    const hasEnded = this.quietOnEnd * frameStep >= waits.quiet;
    if (hasEnded && length - this.quietOnEnd < thresholds.frames) this.start = null;
    else this.isDone = hasEnded || length * frameStep >= this.held;
  }
}
