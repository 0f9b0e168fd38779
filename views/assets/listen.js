// Listening: shows its buttons where a microphone can be had, and loads the rest when one is first tapped. Without this
// script, or without a microphone, the person answers by ear.

import { forgetTrials, readTrials } from './trials.js';

const page = document.documentElement;
if (!isSecureContext) page.classList.add('cannot-listen');
else if (navigator.mediaDevices !== undefined && 'AudioWorkletNode' in window) {
  page.classList.add('can-listen');
  document.addEventListener('click', ({ target }) => {
    const panel =
      target instanceof Element ? target.closest('.listen-start')?.closest('.listen-panel') : null;
    if (panel instanceof HTMLElement) void listen(panel);
  });
  void showEarlier();
}

/**
 * @param {HTMLElement} panel the block with the button that was tapped
 */
async function listen(panel) {
  try {
    if (panel.classList.contains('wavering')) {
      const { listenToWavering } = await import('./listening/adjusting.js');
      await listenToWavering(panel);
    } else {
      const { listenToNote } = await import('./listening/note.js');
      await listenToNote(panel);
    }
  } catch {
    const says = panel.querySelector('.listen-says');
    if (says !== null) says.textContent = 'Listening did not work here. Answer by ear.';
  }
}

/** While a screw is turned, what was heard at earlier turns is shown; once that is over, it is forgotten. */
async function showEarlier() {
  const place = document.querySelector('[data-trial]');
  if (!(place instanceof HTMLElement)) forgetTrials();
  else if (place instanceof HTMLDetailsElement && readTrials(place.dataset.trial ?? '').length > 0) {
    const { showTrials } = await import('./listening/adjusting.js');
    showTrials(place);
    place.open = true;
  }
}
