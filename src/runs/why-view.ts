/** Why a run thinks what it thinks, worked out from its findings, the diagnosis and the mechanism. */
import { explain, suspects } from '../diagnosis/index.ts';
import type { RunBook } from './book.ts';
import type { RunState } from './run-state.ts';
import { caseOf, type WhyCase } from './why-case.ts';
import { viewChecks } from './why-checks.ts';
import { viewPattern } from './why-pattern.ts';
import type { WhyView } from './why-schema.ts';
import { compareSuspects } from './why-suspects.ts';
import { stepInWords } from './words.ts';

/**
 * The whole of a run's "Why?".
 *
 * @param row the run's code and revision
 */
export function viewWhy(
  book: RunBook,
  row: { readonly id: string; readonly revision: number },
  state: RunState,
): WhyView {
  const { instrument, model } = book;
  const whyCase = caseOf(book, state);
  const { before, belief } = whyCase;
  return {
    id: row.id,
    revision: row.revision,
    instrument: { id: instrument.id, name: instrument.name },
    sentences: sentencesOf(book, state, whyCase),
    moment: whyCase.moment,
    last: before?.last ?? null,
    suspects: compareSuspects(
      suspects(model, belief),
      before === null ? null : suspects(model, before.belief),
    ),
    pattern: viewPattern(book, whyCase),
    checks: viewChecks(book, state, whyCase),
  };
}

/** How it ended, where it has, and the explanation; where nothing is known yet, that. */
function sentencesOf(book: RunBook, state: RunState, { belief, findings }: WhyCase): string[] {
  const { step, fill } = stepInWords(book, state);
  const ending = step.outcome === undefined ? [] : [fill(step.outcome.lead)];
  const { sentences } = explain(book.model, belief, findings);
  if (sentences.length > 0) return [...ending, ...sentences];
  const what =
    findings.length > 0
      ? 'Nothing that was asked could be told'
      : ending.length > 0
        ? 'No note was played and no part was tried'
        : 'Nothing has been looked at or played yet';
  return [
    ...ending,
    `${what}. So this shows only how often each thing is the matter with an instrument that somebody complains about.`,
  ];
}
