/** Why a run thinks what it thinks, worked out from its findings, the diagnosis and the mechanism. */
import { explain, sayChance, suspects } from '../diagnosis/index.ts';
import type { RunBook } from './book.ts';
import type { RunState } from './run-state.ts';
import { caseOf, type WhyCase } from './why-case.ts';
import { viewChecks } from './why-checks.ts';
import { viewPattern } from './why-pattern.ts';
import type { WhyView } from './why-schema.ts';
import { compareSuspects } from './why-suspects.ts';

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
    sentences: sentencesOf(book, whyCase),
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

/** The explanation; where no listed fault leads, what leads instead is said first, and rare faults are not argued about. */
function sentencesOf({ model }: RunBook, { belief, findings }: WhyCase): string[] {
  const { sentences, failed, spoke } = explain(model, belief, findings);
  if (sentences.length === 0) {
    return [
      'Nothing has been looked at or played yet. So this shows only how often each thing is the matter with an instrument that somebody complains about.',
    ];
  }
  const { faults, healthy, somethingElse } = suspects(model, belief);
  const lead = faults[0]?.probability ?? 0;
  if (healthy < lead && somethingElse < lead) return [...sentences];
  const sounding = failed.length + spoke.length > 0 ? sentences.slice(0, 1) : [];
  return [
    ...sounding,
    healthy >= somethingElse
      ? `${sayCapital(healthy)} instruments with these answers have nothing wrong at all.`
      : `${sayCapital(somethingElse)} instruments with these answers have something that is not on our list.`,
  ];
}

function sayCapital(chance: number): string {
  const words = sayChance(chance);
  return words.charAt(0).toUpperCase() + words.slice(1);
}
