/** How notes answer by what is said of them. */
import { type Fingering, midi } from '../mechanism/index.ts';
import type { Predicate } from './clauses.ts';
import type { NoteBook } from './note-book.ts';

export type Outcome = {
  readonly answered: 'speaks' | 'unsteady' | 'wrong' | 'silent';
  readonly octave: 'up' | 'down' | null;
  /** Pitch class and, where it was said, the very note that is heard instead. */
  readonly heard: { readonly pitchClass: number; readonly number: number | null } | null;
};

const OCTAVE = 12;
/** Of several things said of one note the strongest counts. */
const STRENGTH: readonly Outcome['answered'][] = ['speaks', 'unsteady', 'wrong', 'silent'];

/** An answer with no other note in it. */
export function plainOutcome(answered: Outcome['answered']): Outcome {
  return { answered, octave: null, heard: null };
}

/** What these predicates together say of a note, or null where they say nothing of notes. */
export function outcomeOfAll(predicates: readonly Predicate[]): Outcome | null {
  let best: Outcome | null = null;
  for (const predicate of predicates) {
    const outcome = outcomeOf(predicate);
    if (outcome !== null && (best === null || isStronger(outcome, best))) best = outcome;
  }
  return best;
}

function isStronger(one: Outcome, other: Outcome): boolean {
  return STRENGTH.indexOf(one.answered) > STRENGTH.indexOf(other.answered);
}

function outcomeOf({ answer, sign, isNegated, isHardly, sounded }: Predicate): Outcome | null {
  if (answer === null) return sign === null && isNegated ? plainOutcome('silent') : null;
  if (isHardly && answer.answered === 'speaks') return plainOutcome('unsteady');
  if (isNegated) return answer.negated === undefined ? null : plainOutcome(answer.negated);
  if (answer.names !== undefined && sounded === null) return plainOutcome('unsteady');
  return {
    answered: answer.answered,
    octave: answer.octave ?? null,
    heard: sounded === null ? null : { pitchClass: sounded.pitchClass, number: sounded.number },
  };
}

/** What "all but" and "only" say of the others. */
export function oppositeOf({ answered }: Outcome, predicates: readonly Predicate[]): Outcome {
  if (answered !== 'speaks') return plainOutcome('speaks');
  const failing = predicates.map(({ answer }) => answer?.negated);
  return plainOutcome(failing.find((one) => one !== undefined && one !== 'speaks') ?? 'unsteady');
}

/**
 * The fingering of which an outcome can be meant, or null. A note comes out an octave high only where there is an upper one.
 * What stays an octave low is a note of an upper register: "G won't go up" speaks of the upper G.
 * @param isStretch whether the note is only one of a stretch; then it must be in the lowest register to jump up
 */
export function meantBy(
  book: NoteBook,
  fingering: Fingering,
  { octave }: Outcome,
  isStretch: boolean,
): Fingering | null {
  if (octave === null) return fingering;
  const number = midi(fingering.note);
  if (octave === 'up') {
    const isUpper = isStretch && fingering.register > 1;
    return isUpper || book.fingeringOf(number + OCTAVE) === null ? null : fingering;
  }
  if (fingering.register > 1) return book.fingeringOf(number - OCTAVE) === null ? null : fingering;
  return isStretch ? null : book.fingeringOf(number + OCTAVE);
}
