/** One listening: microphone, frames and take put together. Only one is open at a time. */
import { FrameReader } from './frames.js';
import { MicrophoneError, openMicrophone } from './microphone.js';
import { Take } from './take.js';

/** @typedef {import('./frames.js').Frame} Frame */

/** Ends the listening that is open. @type {(() => void) | null} */
let stopOpen = null;

/** Ends the listening that is open, if one is; it then gives null. */
export function stopListening() {
  stopOpen?.();
}

/**
 * Listens until the take is done.
 * @param {{ frequency: number, mode: number, held?: number }} note what is expected, in hertz; its next register, as a
 *   multiple; seconds to listen
 * @param {(latest: Frame | null) => void} onProgress called once when the microphone is open, with null, and then with the
 *   latest frame, about twenty times a second
 * @returns {Promise<{ frames: Frame[], isAltered: boolean } | null>} null when it was stopped
 * @throws {MicrophoneError} when there is no microphone, or it may not be used, or it goes away
 */
export async function listenOnce({ frequency, mode, held }, onProgress) {
  stopListening();
  const take = new Take(held);
  /** @type {FrameReader | null} */
  let reader = null;
  /** @type {(isWhole: boolean) => void} */
  let end = () => {};
  /** @type {(error: MicrophoneError) => void} */
  let fail = () => {};
  /** @type {Promise<boolean>} */
  const ended = new Promise((resolve, reject) => {
    end = resolve;
    fail = reject;
  });
  const stop = () => end(false);
  stopOpen = stop;
  document.addEventListener('visibilitychange', stop, { once: true });
  try {
    const microphone = await openMicrophone(hear, fail);
    reader = new FrameReader(microphone.rate, frequency, mode);
    onProgress(null);
    const isWhole = await ended.finally(microphone.close);
    return isWhole ? { frames: take.heard, isAltered: microphone.isAltered } : null;
  } finally {
    document.removeEventListener('visibilitychange', stop);
    if (stopOpen === stop) stopOpen = null;
  }

  /** @param {Float32Array} samples */
  function hear(samples) {
    if (reader === null || take.isDone) return;
    const frames = reader.push(samples);
    take.add(frames);
    const latest = frames.at(-1);
    if (latest !== undefined) onProgress(latest);
    if (take.isDone) end(true);
  }
}

export { MicrophoneError };
