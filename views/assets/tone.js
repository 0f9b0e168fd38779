// "Hear it": plays what a written note should sound like. The page says the same in words, so it works without this script.

import { atTuning, keepTuning, tuningA } from './tuning.js';

/** A reed-like tone, loud enough to compare with and no louder; figures of ours. Seconds where not said otherwise. */
const sound = { gain: 0.2, attack: 0.05, release: 0.06, longest: 20, partials: 10 };

/** Made at the first tap: browsers let a page sound only after its reader has done something. @type {AudioContext | null} */
let audio = null;
/** What sounds at the moment. @type {{ button: Element, oscillator: OscillatorNode, volume: GainNode } | null} */
let sounding = null;

if (typeof AudioContext === 'function') {
  document.documentElement.classList.add('can-hear');
  document.addEventListener('click', ({ target }) => {
    if (!(target instanceof Element)) return;
    const tone = target.closest('.tone');
    const change = target.closest('[data-tuning]');
    if (tone !== null) toggle(tone);
    if (change !== null) tune(tuningA() + Number(change.getAttribute('data-tuning')));
  });
  // An answer may put a new row in the place of the one whose tone sounds.
  document.addEventListener('submit', stop);
  addEventListener('pagehide', stop);
  document.addEventListener('toggle', showTuning, true);
  showTuning();
}

/**
 * Starts the tone of a button, or stops it if it is the one that sounds.
 * @param {Element} button
 */
function toggle(button) {
  const isSounding = sounding?.button === button;
  stop();
  if (!isSounding) play(button);
}

/**
 * Plays the tone of a button until it is stopped.
 * @param {Element} button
 */
function play(button) {
  audio ??= new AudioContext();
  void audio.resume();
  const now = audio.currentTime;
  const oscillator = audio.createOscillator();
  const volume = audio.createGain();
  // Small loudspeakers give little of a low fundamental; the ear hears the pitch from the partials above it.
  const partials = Float32Array.from({ length: sound.partials + 1 }, (_, number) =>
    number === 0 ? 0 : 1 / number,
  );
  oscillator.setPeriodicWave(audio.createPeriodicWave(new Float32Array(partials.length), partials));
  oscillator.frequency.value = frequencyOf(button);
  volume.gain.setValueAtTime(0, now);
  volume.gain.linearRampToValueAtTime(sound.gain, now + sound.attack);
  oscillator.connect(volume).connect(audio.destination);
  oscillator.start(now);
  oscillator.stop(now + sound.longest);
  const playing = { button, oscillator, volume };
  oscillator.addEventListener('ended', () => {
    if (sounding === playing) stop();
  });
  sounding = playing;
  mark(button, 'Stop');
}

/** Lets the tone die away. */
function stop() {
  if (sounding === null || audio === null) return;
  const { button, oscillator, volume } = sounding;
  sounding = null;
  const now = audio.currentTime;
  volume.gain.cancelScheduledValues(now);
  volume.gain.setTargetAtTime(0, now, sound.release / 3);
  oscillator.stop(now + sound.release * 2);
  mark(button, 'Hear it');
}

/**
 * Says on the button what a tap does.
 * @param {Element} button
 * @param {string} word
 */
function mark(button, word) {
  button.classList.toggle('is-sounding', word === 'Stop');
  const place = button.querySelector('.tone-word');
  if (place !== null) place.textContent = word;
}

/**
 * In hertz at the A that is set: in equal temperament every frequency is proportional to that of A.
 * @param {Element} button
 */
function frequencyOf(button) {
  return atTuning(Number(button.getAttribute('data-frequency')));
}

/**
 * Sets the A and what sounds to it.
 * @param {number} wanted in hertz
 */
function tune(wanted) {
  keepTuning(wanted);
  if (sounding !== null && audio !== null) {
    sounding.oscillator.frequency.setTargetAtTime(frequencyOf(sounding.button), audio.currentTime, 0.02);
  }
  showTuning();
}

/** Shows the A that is set. */
function showTuning() {
  for (const place of document.querySelectorAll('.tuning-a')) place.textContent = String(tuningA());
}
