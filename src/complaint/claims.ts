/** What a text claims: these notes answer so, this part shows that, this went before. */
import type { Fingering } from '../mechanism/index.ts';
import type { Clause, Predicate, Subject, Told } from './clauses.ts';
import type { Item } from './items.ts';
import type { NoteBook } from './note-book.ts';
import { claimNotes } from './note-claims.ts';
import { type Outcome, plainOutcome } from './outcomes.ts';
import { pairUp } from './pairing.ts';
import type { Shown, Vocabulary } from './schema.ts';
import { settleClaims } from './settlement.ts';

/** said: in so many words. implied: follows from "only", "below". other: another reading of the words. */
export type Rank = 'said' | 'implied' | 'other';

export type NoteClaim = {
  readonly outcome: Outcome;
  /** None: all the notes of which nothing else is said. */
  readonly fingerings: readonly Fingering[];
  readonly isStretch: boolean;
  /** Notes that were named, every note, or all that nothing else was said of. */
  readonly covers: 'named' | 'all' | 'rest';
  readonly rank: Rank;
  readonly items: readonly Item[];
};

export type PartClaim = { readonly shown: Shown; readonly subject: Subject; readonly items: readonly Item[] };

export type Claims = {
  readonly notes: readonly NoteClaim[];
  readonly parts: readonly PartClaim[];
  readonly stories: readonly Told[];
};

type Said = { readonly predicates: readonly Predicate[]; readonly subjects: readonly Subject[] };

/**
 * Collects the claims of all clauses; contradictions are settled.
 * @param unsaid how notes answer that are named without a word about them
 */
export function collectClaims(
  book: NoteBook,
  clauses: readonly Clause[],
  unsaid: Vocabulary['unsaid'],
): Claims {
  const named: Subject[] = [];
  const notes: NoteClaim[] = [];
  const parts: PartClaim[] = [];
  let before: Said = { predicates: [], subjects: [] };
  for (const clause of clauses) {
    for (const [index, pair] of pairUp(clause.elements).entries()) {
      const predicates = recall(pair.predicates, before.predicates, clause);
      if (predicates.length === 0) {
        named.push(...pair.subjects);
        continue;
      }
      const isSameSubject = index === 0 && clause.isLinked && pair.subjects.length === 0;
      const subjects = isSameSubject ? before.subjects : pair.subjects;
      parts.push(...claimParts(subjects, predicates));
      const played = subjects.filter((subject) => !isOnlyAPart(subject, predicates));
      if (played.length > 0 || subjects.length === 0) notes.push(...claimNotes(book, played, predicates));
      before = { predicates, subjects };
    }
  }
  if (notes.length + parts.length === 0 && unsaid !== undefined)
    notes.push(...claimUnsaid(named, plainOutcome(unsaid)));
  return { notes: settleClaims(book, notes), parts, stories: clauses.flatMap(({ stories }) => stories) };
}

/** Notes that stand alone in a complaint. A reading that nobody has put in words is never the likely one. */
function claimUnsaid(subjects: readonly Subject[], outcome: Outcome): NoteClaim[] {
  return subjects.flatMap(({ target: { sort, fingerings, named, isStretch, items }, isExcept }) =>
    sort !== 'notes' || fingerings === null || named?.hasNoun === true || isExcept
      ? []
      : [{ outcome, fingerings, isStretch, covers: 'named', rank: 'other', items }],
  );
}

/** A bare "not", or a clause that ends in "does": what was said before holds, denied or not. */
function recall(
  own: readonly Predicate[],
  before: readonly Predicate[],
  clause: Clause,
): readonly Predicate[] {
  if (own.length === 0) {
    return clause.endsInAuxiliary ? before.map((one) => ({ ...one, isNegated: false, items: [] })) : [];
  }
  return own.flatMap((predicate) => {
    const isBare = predicate.answer === null && predicate.sign === null && !predicate.isNothing;
    if (!isBare || before.length === 0) return [predicate];
    return before.map((one) => ({ ...one, isNegated: true, isAfterComma: false, items: predicate.items }));
  });
}

/** "The G sharp key is gone", "the register key works": said of the part, and of no note that it plays. */
function isOnlyAPart({ target: { named }, isExcept }: Subject, predicates: readonly Predicate[]): boolean {
  if (isExcept || named === null || !named.hasNoun || named.note !== null) return false;
  return predicates.every(
    ({ answer, sign, isNegated }) =>
      (sign !== null && answer !== null) || (answer?.answered === 'speaks' && !isNegated),
  );
}

/** Words that can be said of a note and of a part ("missing") are meant of the part where a word for one stands by. */
function claimParts(subjects: readonly Subject[], predicates: readonly Predicate[]): PartClaim[] {
  return predicates.flatMap(({ sign, isNegated, items, answer }) => {
    const shown = isNegated ? sign?.negated : sign?.shown;
    if (shown === undefined) return [];
    const meant = subjects.filter(({ target: { named, fingerings }, isExcept }) => {
      if (named === null || isExcept) return false;
      return answer === null || named.hasNoun || fingerings === null;
    });
    return meant.map((subject) => ({ shown, subject, items: [...subject.target.items, ...items] }));
  });
}
