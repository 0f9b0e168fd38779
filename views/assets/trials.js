// What was heard turn by turn, kept in this tab while one treatment lasts, because every turn is a page of its own.

const key = 'quarter-turn-wavering';

/** @typedef {{ turned: number, words: string, wavering: number }} Trial eighths of a turn so far, also in words */

/**
 * @param {string} trial which run and treatment
 * @returns {Trial[]} by turns; none where this browser keeps nothing
 */
export function readTrials(trial) {
  try {
    const kept = JSON.parse(sessionStorage.getItem(key) ?? '{}');
    return kept.trial === trial && Array.isArray(kept.heard) ? kept.heard : [];
  } catch {
    return [];
  }
}

/**
 * Adds what was heard; where the screw stands as it stood before, it takes the place of what was heard then.
 * @param {string} trial
 * @param {Trial} latest
 * @returns {Trial[]} by turns
 */
export function keepTrial(trial, latest) {
  const others = readTrials(trial).filter(({ turned }) => turned !== latest.turned);
  const heard = [...others, latest].sort((one, other) => one.turned - other.turned);
  try {
    sessionStorage.setItem(key, JSON.stringify({ trial, heard }));
  } catch {
    // A browser that keeps nothing draws one turn at a time.
  }
  return heard;
}

/** Forgets what was heard. */
export function forgetTrials() {
  try {
    sessionStorage.removeItem(key);
  } catch {
    // A browser that keeps nothing has nothing to forget.
  }
}
