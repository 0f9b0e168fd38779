/** A note on a staff, said in words. */
import type { Clef } from '../mechanism/index.ts';
import { spelled, staffSteps, TOP_LINE } from './clef.ts';

const LINES = ['bottom', 'second', 'middle', 'fourth', 'top'];
const SPACES = ['lowest', 'second', 'third', 'highest'];
const ORDINALS = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth'];
const ACCIDENTAL_WORDS: Readonly<Record<string, string>> = {
  '': '',
  '#': ' sharp',
  '##': ' double sharp',
  b: ' flat',
  bb: ' double flat',
};

/**
 * What the staff shows, for example "C sharp in the treble clef, on the first extra line below the staff".
 * @throws RangeError when the text is no note name
 */
export function staffWords(clef: Clef, note: string): string {
  const { letter, accidental } = spelled(note);
  return `${letter}${ACCIDENTAL_WORDS[accidental]} in the ${clef} clef, ${placeWords(staffSteps(clef, note))}`;
}

function placeWords(steps: number): string {
  if (steps >= 0 && steps <= TOP_LINE) {
    const place = Math.floor(steps / 2);
    return steps % 2 === 0 ? `on the ${LINES[place]} line` : `in the ${SPACES[place]} space`;
  }
  const side = steps < 0 ? 'below' : 'above';
  const beyond = steps < 0 ? -steps : steps - TOP_LINE;
  const ledger = Math.floor(beyond / 2);
  if (ledger === 0) return `just ${side} the staff`;
  const line = `the ${ORDINALS[ledger - 1] ?? `${ledger}th`} extra line ${side} the staff`;
  return beyond % 2 === 0 ? `on ${line}` : `just ${side} ${line}`;
}
