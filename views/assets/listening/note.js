/** Listening at one row of the play test: says what it hears, and proposes an answer that the person then taps or not. */
import { judge } from './judge.js';
import { noteAbove } from './note-names.js';
import { listenAt, say } from './panel.js';

/** @typedef {import('./judge.js').Judgement} Judgement */

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
 * @param {HTMLElement} panel the row's block for listening; `data-name` is how the note is called
 */
export async function listenToNote(panel) {
  takeBack();
  const { note = '', name = '' } = panel.dataset;
  const heard = await listenAt(panel, { ask: `Play ${name} now, and hold it.` });
  if (heard === null) return;
  const judgement = judge(heard.frames, heard.expected, (semitones) => noteAbove(note, semitones));
  show(panel, judgement, heard.isAltered);
}

/**
 * Shows a verdict and marks the answer that goes with it. Nothing is sent: that is the person's tap.
 * @param {HTMLElement} panel
 * @param {Judgement} judgement
 * @param {boolean} isAltered
 */
function show(panel, { verdict, reasons, heard }, isAltered) {
  const row = panel.closest('.note');
  const start = panel.querySelector('.listen-start');
  const answer = [...(row?.querySelectorAll('.note-answers .answer') ?? [])].find(
    (each) => each instanceof HTMLButtonElement && each.value.endsWith(` ${answers[verdict]}`),
  );
  if (!(answer instanceof HTMLButtonElement)) {
    say(panel, `Not sure. ${reasons.join(' ')} Then listen again, or answer by ear.`);
    if (start instanceof HTMLElement) start.focus();
    return;
  }
  const warning =
    isAltered && verdict === 'speaks'
      ? ' This browser evens out loudness, so listen for a wavering too.'
      : '';
  say(panel, `${reasons.join(' ')}${warning} Proposed: ${answer.textContent.trim()}. Tap it if you agree.`);
  answer.classList.add('is-proposed');
  const says = panel.querySelector('.listen-says');
  if (says !== null) answer.setAttribute('aria-describedby', says.id);
  if (row !== null && heard !== null) nameHeard(row, panel, noteAbove(panel.dataset.note ?? '', heard));
  answer.focus();
}

/**
 * Puts the note that came out beside the answer "wrong", so that one tap tells both.
 * @param {Element} row
 * @param {HTMLElement} panel
 * @param {string} note
 */
function nameHeard(row, panel, note) {
  const list = row.querySelector('.heard select');
  if (list instanceof HTMLSelectElement) {
    if ([...list.options].some(({ value }) => value === note)) list.value = note;
    return;
  }
  const field = document.createElement('input');
  field.type = 'hidden';
  field.className = 'listen-heard';
  field.name = `sounded ${panel.dataset.fingering}`;
  field.value = note;
  panel.append(field);
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
