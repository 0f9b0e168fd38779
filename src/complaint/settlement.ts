/** Contradictions settled: each note keeps one claim. */
import type { Fingering } from '../mechanism/index.ts';
import type { NoteClaim } from './claims.ts';
import type { NoteBook } from './note-book.ts';

/**
 * What was said of notes by name stands, the first word on a note first; then, as far as notes are left, what was said of
 * stretches, what is implied of single notes, what was said of every note, what is implied of the rest. Other readings stay beside these, whole,
 * unless they say nothing new.
 */
export function settleClaims(book: NoteBook, claims: readonly NoteClaim[]): NoteClaim[] {
  const taken = new Set<string>();
  const settled: NoteClaim[] = [];
  const take = (claim: NoteClaim, fingerings: readonly Fingering[]) => {
    const left = fingerings.filter(({ id }) => !taken.has(id));
    if (left.length === 0) return;
    for (const { id } of left) taken.add(id);
    const covers = claim.covers === 'all' && left.length < fingerings.length ? 'rest' : claim.covers;
    settled.push({ ...claim, fingerings: left, covers });
  };
  const firm = claims.filter(({ rank }) => rank !== 'other');
  for (const claim of firm.toSorted(byTurn)) {
    const isOfRest = claim.fingerings.length === 0;
    take(claim, isOfRest ? book.standard.filter(book.isEverywhere) : claim.fingerings);
  }
  const others = claims.filter(({ rank, outcome }) => rank === 'other' && outcome.answered !== 'speaks');
  return [...settled, ...others.filter(({ fingerings }) => fingerings.some(({ id }) => !taken.has(id)))];
}

/** Of two stretches the narrower one says more. */
function byTurn(one: NoteClaim, other: NoteClaim): number {
  const turn = turnOf(one);
  if (turn !== turnOf(other)) return turn - turnOf(other);
  return turn === STRETCH ? one.fingerings.length - other.fingerings.length : 0;
}

const STRETCH = 1;

function turnOf({ rank, covers, isStretch }: NoteClaim): number {
  if (covers !== 'named') return covers === 'all' ? 3 : 4;
  if (rank === 'implied') return 2;
  return isStretch ? STRETCH : 0;
}
