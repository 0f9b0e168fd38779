/** What every place with a "Listen" button shows while it listens: words for the ear and for the eye. */
import { atTuning } from '../tuning.js';
import { hasPitch } from './judge.js';
import { noteAbove } from './note-names.js';
import { listenOnce, MicrophoneError, stopListening } from './session.js';

/**
 * @typedef {import('./frames.js').Frame} Frame
 * @typedef {{ frames: Frame[], isAltered: boolean, expected: number }} Heard `expected` in hertz, at the A that is set
 */

/**
 * Listens at a panel and shows how it goes, or stops if it is just listening there.
 * @param {HTMLElement} panel `data-frequency` in hertz at A = 440, `data-mode`, `data-note`; in it the button and the words
 * @param {{ ask: string, held?: number }} how what to ask for once the microphone is open; seconds to listen
 * @returns {Promise<Heard | null>} null when it was stopped or there is no microphone, which is then said
 */
export async function listenAt(panel, { ask, held }) {
  if (panel.classList.contains('is-listening')) {
    stopListening();
    return null;
  }
  // The page's own tone would be heard as the note.
  const tone = document.querySelector('.tone.is-sounding');
  if (tone instanceof HTMLElement) tone.click();
  const { frequency = '', mode = '2', note = '' } = panel.dataset;
  const expected = atTuning(Number(frequency));
  panel.classList.add('is-listening');
  say(panel, 'Asking for the microphone. Nothing is recorded and no sound leaves this device.');
  write(panel, '.listen-word', 'Stop');
  try {
    const showLive = liveWords(panel, expected, note);
    const wanted = { frequency: expected, mode: Number(mode), ...(held === undefined ? {} : { held }) };
    const heard = await listenOnce(wanted, (frame) => {
      if (frame === null) say(panel, ask);
      else showLive(frame);
    });
    say(panel, '');
    return heard === null ? null : { ...heard, expected };
  } catch (error) {
    if (!(error instanceof MicrophoneError)) throw error;
    say(panel, error.message);
    return null;
  } finally {
    panel.classList.remove('is-listening');
    write(panel, '.listen-word', 'Listen');
    write(panel, '.listen-live', '');
  }
}

/**
 * @param {HTMLElement} panel
 * @param {string} text read out by a screen reader
 */
export function say(panel, text) {
  write(panel, '.listen-says', text);
}

/**
 * A few words on what is heard at the moment, for the eye; they change at most four times a second.
 * @param {HTMLElement} panel
 * @param {number} expected
 * @param {string} note
 * @returns {(frame: Frame) => void}
 */
function liveWords(panel, expected, note) {
  let shownAt = Number.NEGATIVE_INFINITY;
  return (frame) => {
    if (frame.time - shownAt < 0.25) return;
    shownAt = frame.time;
    const semitones = Math.round(12 * Math.log2(frame.frequency / expected));
    const words = hasPitch(frame) ? `Hearing ${noteAbove(note, semitones)}` : 'Hearing no note yet';
    write(panel, '.listen-live', words);
  };
}

/**
 * @param {HTMLElement} panel
 * @param {string} place
 * @param {string} text
 */
function write(panel, place, text) {
  const element = panel.querySelector(place);
  if (element !== null) element.textContent = text;
}
