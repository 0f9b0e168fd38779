/** The blanks that texts in the charts may leave, who fills them, and the filling itself. */
import type { Direction } from './schema.ts';

/**
 * Every placeholder a text may use as {{name}}, and what it becomes. `flow` ones are filled by the flow itself from what it
 * remembers; `run` ones by whoever knows the instrument, the fault and the notes.
 */
export const placeholders = {
  place: { by: 'run', means: 'the name of the part that is accused' },
  driver: { by: 'run', means: 'the part that does the moving at this link' },
  driverTouch: { by: 'run', means: 'the touch that works the driver' },
  target: { by: 'run', means: 'the part that is moved at this link' },
  opener: { by: 'run', means: 'the touch that would open the target' },
  lookAlike: { by: 'run', means: 'the link whose screw is easily mistaken for this one' },
  screwWhere: { by: 'run', means: 'where to find the screw' },
  test: { by: 'run', means: 'what the proof of this fault asks one to do' },
  tooFarTest: { by: 'run', means: 'what the proof of the opposite fault asks one to do' },
  stopSign: { by: 'run', means: 'the sign that enough has been turned' },
  noteToPlay: { by: 'run', means: 'the note to play for the test' },
  failingNotes: { by: 'run', means: 'the notes that failed' },
  retestNotes: { by: 'run', means: 'the notes to play again' },
  fault: { by: 'run', means: 'the title of the fault in hand' },
  mended: {
    by: 'run',
    means: 'the titles of all faults that were treated so far; before, that of the one in hand',
  },
  fix: { by: 'run', means: 'what mends this fault' },
  direction: { by: 'flow', means: 'which way to turn' },
  oppositeDirection: { by: 'flow', means: 'which way to turn back' },
  turned: { by: 'flow', means: 'what has been turned so far, in words' },
  limit: { by: 'flow', means: 'how far may be turned at most, in words' },
  aim: { by: 'flow', means: 'what the procedure in hand will do' },
  tools: { by: 'flow', means: 'what the procedure in hand needs' },
} as const satisfies Record<string, { by: 'run' | 'flow'; means: string }>;

export type Placeholder = keyof typeof placeholders;
export type RunPlaceholder = {
  [P in Placeholder]: (typeof placeholders)[P]['by'] extends 'run' ? P : never;
}[Placeholder];

const pattern = /\{\{([^{}]*)\}\}/g;

/** True for a name that texts may use as a placeholder: one of those above, or of `blanks`, which families fill. */
export function isPlaceholder(name: string, blanks: readonly string[]): boolean {
  return Object.hasOwn(placeholders, name) || blanks.includes(name);
}

/** The names between double braces in a text, known or not, in order, without repetition. */
export function listPlaceholders(text: string): string[] {
  return [...new Set([...text.matchAll(pattern)].map((match) => match[1]!.trim()))];
}

/** The text with every placeholder filled for which there is a value; the others are left standing. */
export function fillTemplate(text: string, values: Readonly<Record<string, string | undefined>>): string {
  if (!text.includes('{{')) return text;
  return text.replace(pattern, (whole, name: string) => values[name.trim()] ?? whole);
}

const eighthsInWords = [
  '',
  'an eighth of a turn',
  'a quarter turn',
  'three eighths of a turn',
  'half a turn',
  'five eighths of a turn',
  'three quarters of a turn',
  'seven eighths of a turn',
];
const whole = ['', 'one whole turn', 'two whole turns', 'three whole turns'];

/** A number of eighths of a turn (0 to 31) in words: 6 is "three quarters of a turn", 0 is "nothing". */
export function turnsInWords(eighths: number): string {
  const turns = whole[Math.floor(eighths / 8)] ?? `${Math.floor(eighths / 8)} whole turns`;
  const rest = eighthsInWords[eighths % 8] ?? '';
  if (turns !== '' && rest !== '') return `${turns} and ${rest}`;
  return turns || rest || 'nothing';
}

/** Which way to turn, for somebody looking at the head of the screw. */
export function directionInWords(direction: Direction): string {
  return direction === 'in' ? 'clockwise (in)' : 'anticlockwise (out)';
}
