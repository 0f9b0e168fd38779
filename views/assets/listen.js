// Listening: shows its buttons where a microphone can be had, and loads the rest when one is first tapped. Without this
// script, or without a microphone, the person answers by ear.

const page = document.documentElement;
if (!isSecureContext) page.classList.add('cannot-listen');
else if (navigator.mediaDevices !== undefined && 'AudioWorkletNode' in window) {
  page.classList.add('can-listen');
  document.addEventListener('click', ({ target }) => {
    const button = target instanceof Element ? target.closest('.listen-start') : null;
    const place = button?.closest('.listen');
    if (place instanceof HTMLElement) void listen(place);
  });
}

/**
 * @param {HTMLElement} place the block with the button that was tapped
 */
async function listen(place) {
  const says = place.querySelector('.listen-says');
  try {
    const { listenToNote } = await import('./listening/note.js');
    await listenToNote(place);
  } catch {
    if (says !== null) says.textContent = 'Listening did not work here. Answer by ear.';
  }
}
