/** How notes answer by what is said of them. */
import { type Fingering, type Instrument, lowerRegister, midi, nextRegister } from '../mechanism/index.ts';
import type { Predicate } from './clauses.ts';
import type { NoteBook } from './note-book.ts';

export type Outcome = {
  readonly answered: 'speaks' | 'unsteady' | 'wrong' | 'silent';
  /** The note that comes instead lies an octave off, or in the register next to its own. */
  readonly octave: 'up' | 'down' | null;
  readonly register: 'up' | 'down' | null;
  /** Pitch class and, where it was said, the very note that is heard instead. */
  readonly heard: { readonly pitchClass: number; readonly number: number | null } | null;
};

const OCTAVE = 12;
/** Of several things said of one note the strongest counts. */
const STRENGTH: readonly Outcome['answered'][] = ['speaks', 'unsteady', 'wrong', 'silent'];

/** An answer with no other note in it. */
export function plainOutcome(answered: Outcome['answered']): Outcome {
  return { answered, octave: null, register: null, heard: null };
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

/** A note that is named as coming instead is no silence ("cannot get F sharp, it gives F"). */
function isStronger(one: Outcome, other: Outcome): boolean {
  if ((one.heard === null) !== (other.heard === null)) return one.heard !== null;
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
    register: answer.register ?? null,
    heard: sounded === null ? null : { pitchClass: sounded.pitchClass, number: sounded.number },
  };
}

/** What "all but" and "only" say of the others. */
export function oppositeOf({ answered }: Outcome, predicates: readonly Predicate[]): Outcome {
  if (answered !== 'speaks') return plainOutcome('speaks');
  const failing = predicates.map(({ answer }) => answer?.negated);
  return plainOutcome(failing.find((one) => one !== undefined && one !== 'speaks') ?? 'unsteady');
}

/** The note an octave off, or in the next register, that is heard instead of a fingered one; null where neither is said. */
export function shiftedNote(instrument: Instrument, fingering: Fingering, outcome: Outcome): number | null {
  if (outcome.octave !== null) return midi(fingering.note) + (outcome.octave === 'up' ? OCTAVE : -OCTAVE);
  if (outcome.register === null) return null;
  return outcome.register === 'up'
    ? nextRegister(instrument, fingering)
    : lowerRegister(instrument, fingering);
}

/**
 * The fingering of which an outcome can be meant, or null. A note comes out an octave high only where there is an upper one.
 * What stays an octave low is a note of an upper register: "G won't go up" speaks of the upper G. What jumps or drops by a
 * register has a note of the instrument there.
 * @param isStretch whether the note is only one of a stretch; then it must be in the lowest register to jump up
 */
export function meantBy(
  book: NoteBook,
  fingering: Fingering,
  outcome: Outcome,
  isStretch: boolean,
): Fingering | null {
  const { octave, register } = outcome;
  if (register !== null) {
    const isOther = isStretch && (register === 'up' ? fingering.register > 1 : fingering.register < 2);
    return isOther || book.fingeringOf(shiftedNote(book.instrument, fingering, outcome)!) === null
      ? null
      : fingering;
  }
  if (octave === null) return fingering;
  const number = midi(fingering.note);
  if (octave === 'up') {
    const isUpper = isStretch && fingering.register > 1;
    return isUpper || book.fingeringOf(number + OCTAVE) === null ? null : fingering;
  }
  if (fingering.register > 1) return book.fingeringOf(number - OCTAVE) === null ? null : fingering;
  return isStretch ? null : book.fingeringOf(number + OCTAVE);
}
