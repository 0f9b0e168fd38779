/** Answers as findings: what a note or a check says was observed. */
import { answerAsFinding, COULD_NOT_TELL, type Finding, sayNote } from '../diagnosis/index.ts';
import { type Fingering, parseNote } from '../mechanism/index.ts';
import { Problem } from '../problems.ts';
import type { RunBook } from './book.ts';
import type { Turn } from './run-state.ts';

/** A check of one note is told as the note that it is. */
export function findingOf(book: RunBook, checkId: string, saw: string): Finding {
  const check = book.model.check(checkId);
  const known = [...check.answers.map((answer) => answer.id), COULD_NOT_TELL];
  if (!known.includes(saw)) {
    throw new Problem(
      'unknown-answer',
      `"${saw}" is not an answer to this check. The answers are: ${known.join(', ')}.`,
      {
        fields: [{ pointer: '/answer/choice', detail: `Give one of: ${known.join(', ')}.` }],
        extra: { known },
      },
    );
  }
  return answerAsFinding(book.model, check, saw);
}

/** What an answer says was observed, whatever step it belonged to; empty for an answer that observes nothing. */
export function observationsIn(book: RunBook, { step, answer }: Turn): Finding[] {
  // What was told stands at the beginning of a run, and nowhere else.
  if (answer.type === 'proposals') return [];
  if (answer.type === 'note') {
    const { fingering, answered, sounded } = answer;
    const { note } = fingeringIn(book, fingering);
    return [{ note, fingering, answered, ...(sounded === undefined ? {} : { sounded }) }];
  }
  const check = step.split('/')[1];
  if (check === undefined || !book.model.hasCheck(check)) return [];
  return isAnswerOf(book, check, answer.choice) ? [findingOf(book, check, answer.choice)] : [];
}

function isAnswerOf(book: RunBook, checkId: string, choice: string): boolean {
  return choice === COULD_NOT_TELL || book.model.check(checkId).answers.some(({ id }) => id === choice);
}

/** A fingering of the instrument. @throws Problem `unknown-note`, listing its fingerings */
export function fingeringIn(book: RunBook, id: string): Fingering {
  const found = book.instrument.fingerings.find((fingering) => fingering.id === id);
  if (found === undefined) {
    const known = book.instrument.fingerings.map((fingering) => fingering.id);
    throw new Problem('unknown-note', `The ${book.instrument.name} has no fingering "${id}".`, {
      fields: [{ pointer: '/answer/fingering', detail: 'Give the id of one of its fingerings.' }],
      extra: { known },
    });
  }
  return found;
}

/** The note that came out instead, as a player says it. */
export function sayHeard(book: RunBook, sounded: string): string {
  return parseNote(sounded) === null ? sounded : sayNote(book.instrument, sounded);
}
