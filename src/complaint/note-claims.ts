/** What one pair of subjects and predicates claims of notes. */
import type { Fingering } from '../mechanism/index.ts';
import type { NoteClaim } from './claims.ts';
import type { Predicate, Subject } from './clauses.ts';
import type { NoteBook } from './note-book.ts';
import { meantBy, type Outcome, oppositeOf, outcomeOfAll, plainOutcome } from './outcomes.ts';

type Part = Partial<NoteClaim> & Pick<NoteClaim, 'fingerings' | 'rank'>;

/** The claims on the notes that were named, on those implied ("only", "below"), and on those of other readings. */
export function claimNotes(
  book: NoteBook,
  all: readonly Subject[],
  predicates: readonly Predicate[],
): NoteClaim[] {
  const outcome = outcomeOfAll(predicates);
  if (outcome === null) return [];
  const said = predicates.flatMap(({ items }) => items);
  const opposite = oppositeOf(outcome, predicates);
  const excepted = all.filter(({ isExcept, target }) => isExcept && target.fingerings !== null);
  const subjects = all.filter(({ isExcept, target }) => !isExcept && target.fingerings !== null);
  const everywhere = book.standard.filter(book.isEverywhere);
  const claim = (part: Part): NoteClaim => ({
    outcome,
    isStretch: false,
    covers: 'named',
    items: said,
    ...part,
  });
  const rest = (of: Outcome, fingerings: readonly Fingering[] = []) =>
    claim({ outcome: of, fingerings, isStretch: true, covers: 'rest', rank: 'implied' });

  if (all.length === 0) {
    const isOfAll = predicates.some(isOfAllAlone);
    const every = claim({ fingerings: everywhere, isStretch: true, covers: 'all', rank: 'said' });
    return isOfAll ? keepMeant(book, every) : [];
  }
  const claims = excepted.map(({ target }) => {
    const { fingerings, isStretch, items } = target;
    return claim({
      outcome: opposite,
      fingerings: fingerings!,
      isStretch,
      rank: 'said',
      items: [...items, ...said],
    });
  });
  if (subjects.length === 0) return excepted.length === 0 ? [] : [...claims, rest(outcome, everywhere)];
  const lists = subjects.filter(({ target }) => target.sort === 'notes' && !target.isStretch);
  claims.push(...claimLists(lists, claim, said));
  for (const { target } of subjects.filter((subject) => !lists.includes(subject))) {
    const items = [...target.items, ...said];
    if (target.sort === 'rest') {
      claims.push({ ...rest(outcome), items });
      continue;
    }
    const covers = target.sort === 'all' ? 'all' : 'named';
    const whole = claim({ fingerings: target.fingerings!, isStretch: true, covers, rank: 'said', items });
    claims.push(isVague(target.named, outcome) ? { ...whole, outcome: plainOutcome('unsteady') } : whole);
    for (const fingerings of target.others)
      claims.push(claim({ fingerings, isStretch: true, rank: 'other' }));
    if (target.bound !== null && outcome.answered !== 'speaks') {
      const speaks = { outcome: plainOutcome('speaks'), fingerings: [target.bound], items: target.items };
      claims.push(claim({ ...speaks, rank: 'implied' }));
    }
  }
  if (subjects.some(({ isOnly }) => isOnly)) claims.push(rest(opposite));
  return claims.flatMap((one) => keepMeant(book, one));
}

/** Whether a predicate that nothing is named with is meant of every note. */
function isOfAllAlone({ answer, isNegated }: Predicate): boolean {
  return ((isNegated ? answer?.aloneNegated : undefined) ?? answer?.alone) === 'all';
}

/** Notes named one by one; another reading changes all of them that can be read otherwise. */
function claimLists(
  lists: readonly Subject[],
  claim: (part: Part) => NoteClaim,
  said: NoteClaim['items'],
): NoteClaim[] {
  if (lists.length === 0) return [];
  const readings = Math.max(...lists.map(({ target }) => target.others.length));
  const others = Array.from({ length: readings }, (_, reading) =>
    lists.flatMap(({ target }) => target.others[reading] ?? target.fingerings!),
  );
  const main = lists.flatMap(({ target }) => target.fingerings!);
  const items = [...lists.flatMap(({ target }) => target.items), ...said];
  return [
    claim({ fingerings: main, rank: 'said', items }),
    ...others.map((fingerings) => claim({ fingerings, rank: 'other', items: [] })),
  ];
}

/** "The octave key does not work": its notes fail, but nobody said that they are silent. */
function isVague(named: Subject['target']['named'], { answered }: Outcome): boolean {
  return named?.isSpecial === true && named.note === null && answered === 'silent';
}

/** Only the notes of which the outcome can be meant. A claim on no notes is one on all the rest, and stays. */
function keepMeant(book: NoteBook, claim: NoteClaim): NoteClaim[] {
  if (claim.fingerings.length === 0) return claim.covers === 'rest' ? [claim] : [];
  const fingerings = claim.fingerings
    .map((fingering) => meantBy(book, fingering, claim.outcome, claim.isStretch))
    .filter((fingering) => fingering !== null);
  return fingerings.length === 0 ? [] : [{ ...claim, fingerings }];
}
