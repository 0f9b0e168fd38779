// The A that this browser tunes to: for the tone that a page plays and for the note that it listens to.

/** Where the A is kept in this browser, in hertz. */
const key = 'quarter-turn-tuning-a';
/** The pages tell frequencies at this A (ISO 16). */
const standard = 440;
const lowest = 430;
const highest = 450;

/** The A that is set in this browser, in hertz; the standard one where none is, or where nothing may be kept. */
export function tuningA() {
  try {
    const kept = Number(localStorage.getItem(key) ?? standard);
    return kept >= lowest && kept <= highest ? kept : standard;
  } catch {
    return standard;
  }
}

/**
 * A frequency of the pages at the A that is set: in equal temperament every frequency is proportional to that of A.
 * @param {number} frequency in hertz at the standard A
 */
export function atTuning(frequency) {
  return (frequency * tuningA()) / standard;
}

/**
 * Sets the A, as near to what is wanted as is allowed.
 * @param {number} wanted in hertz
 */
export function keepTuning(wanted) {
  try {
    localStorage.setItem(key, String(Math.min(highest, Math.max(lowest, Math.round(wanted)))));
  } catch {
    // A browser that keeps nothing stays at the standard.
  }
}
