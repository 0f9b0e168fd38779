/** A complaint in words, read into findings that a person confirms before they count. */
import type { DiagnosisModel } from '../diagnosis/index.ts';
import type { Instrument } from '../mechanism/index.ts';
import { collectClaims } from './claims.ts';
import { levelOf, readClause, splitClauses } from './clauses.ts';
import { readItems } from './items.ts';
import { lexiconOf } from './lexicon.ts';
import { noteBookOf } from './note-book.ts';
import { makeProposals, type Proposal } from './proposals.ts';
import { longestComplaint, type Vocabulary } from './schema.ts';
import { mendSpelling } from './spelling.ts';
import { createTargetReader, type NoteMemory } from './targets.ts';
import { tokenise } from './tokens.ts';
import { tellUnderstood, type Understood } from './understood.ts';

/** Places in the text, `to` not included. */
export type Stretch = { readonly from: number; readonly to: number };

export type Reading = {
  readonly proposals: readonly Proposal[];
  /** Stretches of the text and what they were taken for, in the order of the text. */
  readonly understood: readonly Understood[];
  /** Words that were not understood, each once, as they were written; and where they stand. */
  readonly leftOver: readonly string[];
  readonly missed: readonly Stretch[];
  /** Characters at the end that were not read because the text is too long. */
  readonly unread: number;
};

/**
 * Reads a complaint as a director or a caller says it. Nothing in the result counts until the person has confirmed it.
 * Pure: the same for the same text. The sentences are made from the data, never from the text.
 * @param model the diagnosis model of the same instrument
 * @param text any text; only the first {@link longestComplaint} characters are read
 */
export function readComplaint(
  instrument: Instrument,
  model: DiagnosisModel,
  vocabulary: Vocabulary,
  text: string,
): Reading {
  const { limits, spelling } = vocabulary;
  const lexicon = lexiconOf(instrument, vocabulary);
  const book = noteBookOf(instrument);
  const tokens = mendSpelling(
    tokenise(text.slice(0, longestComplaint)),
    lexicon.isKnown,
    lexicon.stems,
    spelling,
  );
  const items = readItems(lexicon, tokens);
  const memory: NoteMemory = { last: null, near: null };
  const clauses = splitClauses(items).map((clause) => {
    if (!clause.isLinked) memory.near = null;
    const reader = createTargetReader(instrument, book, memory, levelOf(clause.items));
    return readClause(clause.items, clause.isLinked, reader);
  });
  const proposed = makeProposals(
    model,
    vocabulary,
    book,
    collectClaims(book, clauses, vocabulary.unsaid),
  ).slice(0, limits.proposals);
  const missed = items.filter(({ sort }) => sort === 'unknown');
  return {
    proposals: proposed.map(({ proposal }) => proposal),
    understood: tellUnderstood(lexicon, book, items, new Set(proposed.flatMap((one) => one.items))),
    leftOver: [...new Set(missed.map(({ raw }) => raw))],
    missed: missed.map(({ from, to }) => ({ from, to })),
    unread: Math.max(0, text.length - longestComplaint),
  };
}
