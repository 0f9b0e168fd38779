/** Listening while a screw is turned: draws how much the held note wavers, turn by turn. It never answers. */
import { keepTrial, readTrials } from '../trials.js';
import { judge } from './judge.js';
import { noteAbove } from './note-names.js';
import { listenAt, say } from './panel.js';
import { drawTrials } from './plot.js';
import { waveringInWords, waveringOf } from './wavering.js';

/** Seconds that the note is held: long enough for some taps. Estimate. */
const held = 3;

/**
 * Draws what was heard at this turn and those before.
 * @param {HTMLElement} panel `data-trial` says of which treatment
 */
export function showTrials(panel) {
  const trials = readTrials(panel.dataset.trial ?? '');
  const place = panel.querySelector('.wavering-plot');
  if (place !== null) drawTrials(place, trials);
}

/**
 * Listens to the held note and adds it to the drawing.
 * @param {HTMLElement} panel `data-turned` in eighths of a turn, `data-words` the same in words, `data-touch` what to tap
 */
export async function listenToWavering(panel) {
  const { trial = '', turned = '0', words = '', note = '', name = '', touch = '' } = panel.dataset;
  const heard = await listenAt(panel, { ask: `Hold ${name} now, and tap the ${touch}.`, held });
  if (heard === null) return;
  const { verdict, reasons } = judge(heard.frames, heard.expected, (semitones) => noteAbove(note, semitones));
  const wavering = waveringOf(heard.frames);
  if (wavering === null || verdict === 'wrong') {
    say(panel, `Not sure. ${reasons.join(' ')} Then listen again, or trust your eyes and ears.`);
    return;
  }
  const trials = keepTrial(trial, { turned: Number(turned), words, wavering });
  const place = panel.querySelector('.wavering-plot');
  if (place !== null) drawTrials(place, trials);
  const says = `${words} the note ${waveringInWords(wavering)}.`;
  say(panel, says.charAt(0).toUpperCase() + says.slice(1));
}
