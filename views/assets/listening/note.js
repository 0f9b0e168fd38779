/** Listening at one row of the play test: says what it hears, and proposes an answer that the person then taps or not. */
import { atTuning } from '../tuning.js';
import { hasPitch, judge } from './judge.js';
import { noteAbove } from './note-names.js';
import { listenOnce, MicrophoneError, stopListening } from './session.js';

/**
 * @typedef {import('./frames.js').Frame} Frame
 * @typedef {import('./judge.js').Judgement} Judgement
 */

/** The answer on the page that goes with a verdict. @type {Readonly<Record<string, string>>} */
const answers = {
  speaks: 'speaks',
  unsteady: 'unsteady',
  jumps: 'unsteady',
  wrong: 'wrong',
  silent: 'silent',
};

/**
 * Listens to the note of a row, or stops if it is just being listened to.
 * @param {HTMLElement} place the row's block for listening: `data-frequency` in hertz at A = 440, `data-mode`, `data-note`
 *   and `data-name`
 */
export async function listenToNote(place) {
  if (place.classList.contains('is-listening')) {
    stopListening();
    return;
  }
  const { frequency = '', mode = '2', note = '', name = '' } = place.dataset;
  const expected = { frequency: atTuning(Number(frequency)), mode: Number(mode) };
  takeBack();
  // The page's own tone would be heard as the note.
  const tone = document.querySelector('.tone.is-sounding');
  if (tone instanceof HTMLElement) tone.click();
  place.classList.add('is-listening');
  say(place, 'Asking for the microphone.');
  word(place, 'Stop');
  try {
    const showLive = liveWords(place, expected.frequency, note);
    const heard = await listenOnce(expected, (frame) => {
      if (frame === null) say(place, `Play ${name} now, and hold it.`);
      else showLive(frame);
    });
    if (heard === null) say(place, '');
    else {
      const judgement = judge(heard.frames, expected.frequency, (semitones) => noteAbove(note, semitones));
      show(place, judgement, heard.isAltered);
    }
  } catch (error) {
    if (!(error instanceof MicrophoneError)) throw error;
    say(place, error.message);
  } finally {
    place.classList.remove('is-listening');
    word(place, 'Listen');
    live(place, '');
  }
}

/**
 * Shows a verdict and marks the answer that goes with it. Nothing is sent: that is the person's tap.
 * @param {HTMLElement} place
 * @param {Judgement} judgement
 * @param {boolean} isAltered
 */
function show(place, { verdict, reasons, heard }, isAltered) {
  const row = place.closest('.note');
  const start = place.querySelector('.listen-start');
  const answer = [...(row?.querySelectorAll('.note-answers .answer') ?? [])].find(
    (each) => each instanceof HTMLButtonElement && each.value.endsWith(` ${answers[verdict]}`),
  );
  if (!(answer instanceof HTMLButtonElement)) {
    say(place, `Not sure. ${reasons.join(' ')} Then listen again, or answer by ear.`);
    if (start instanceof HTMLElement) start.focus();
    return;
  }
  const warning =
    isAltered && verdict === 'speaks'
      ? ' This browser evens out loudness, so listen for a wavering too.'
      : '';
  say(place, `${reasons.join(' ')}${warning} Proposed: ${answer.textContent.trim()}. Tap it if you agree.`);
  answer.classList.add('is-proposed');
  const says = place.querySelector('.listen-says');
  if (says !== null) answer.setAttribute('aria-describedby', says.id);
  if (row !== null && heard !== null) nameHeard(row, place, noteAbove(place.dataset.note ?? '', heard));
  answer.focus();
}

/**
 * Puts the note that came out beside the answer "wrong", so that one tap tells both.
 * @param {Element} row
 * @param {HTMLElement} place
 * @param {string} note
 */
function nameHeard(row, place, note) {
  const name = `sounded ${place.dataset.fingering}`;
  const list = row.querySelector('.heard select');
  if (list instanceof HTMLSelectElement) {
    if ([...list.options].some(({ value }) => value === note)) list.value = note;
    return;
  }
  const field = document.createElement('input');
  field.type = 'hidden';
  field.className = 'listen-heard';
  field.name = name;
  field.value = note;
  place.append(field);
}

/** Takes an earlier proposal back, wherever on the page it is. */
function takeBack() {
  for (const answer of document.querySelectorAll('.is-proposed')) {
    answer.classList.remove('is-proposed');
    answer.removeAttribute('aria-describedby');
  }
  for (const field of document.querySelectorAll('.listen-heard')) field.remove();
  for (const says of document.querySelectorAll('.listen-says')) says.textContent = '';
}

/**
 * A few words on what is heard at the moment, for the eye; they change at most four times a second.
 * @param {HTMLElement} place
 * @param {number} expected
 * @param {string} note
 * @returns {(frame: Frame) => void}
 */
function liveWords(place, expected, note) {
  let shownAt = Number.NEGATIVE_INFINITY;
  return (frame) => {
    if (frame.time - shownAt < 0.25) return;
    shownAt = frame.time;
    const semitones = Math.round(12 * Math.log2(frame.frequency / expected));
    live(place, hasPitch(frame) ? `Hearing ${noteAbove(note, semitones)}` : 'Hearing no note yet');
  };
}

/**
 * @param {HTMLElement} place
 * @param {string} text read out by a screen reader
 */
function say(place, text) {
  const says = place.querySelector('.listen-says');
  if (says !== null) says.textContent = text;
}

/**
 * @param {HTMLElement} place
 * @param {string} text for the eye alone
 */
function live(place, text) {
  const words = place.querySelector('.listen-live');
  if (words !== null) words.textContent = text;
}

/**
 * @param {HTMLElement} place
 * @param {string} text what a tap does
 */
function word(place, text) {
  const button = place.querySelector('.listen-word');
  if (button !== null) button.textContent = text;
}
