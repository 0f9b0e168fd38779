/** What a clause speaks of: notes, a stretch of notes, a part. */
import type { Fingering } from '../mechanism/index.ts';
import type { Item, Named } from './items.ts';

export type Target = {
  readonly sort: 'notes' | 'all' | 'rest';
  /** Low to high; null where nothing can be played with what is named. */
  readonly fingerings: readonly Fingering[] | null;
  /** Other readings of the same words, the likelier first. */
  readonly others: readonly (readonly Fingering[])[];
  /** A stretch, not a list: nobody says that each of its notes was tried. */
  readonly isStretch: boolean;
  /** The note that a stretch stops short of ("below D"): it is not said to fail. */
  readonly bound: Fingering | null;
  readonly named: Named | null;
  readonly items: readonly Item[];
};

/** Whether a part follows that the notes before it are played with ("B flat with the side key"). */
export function isPlayedWith(
  between: Item | undefined,
  item: Item | undefined,
): item is Extract<Item, { sort: 'named' }> {
  const isJoined = between?.sort === 'particle' && between.particle === 'prepositions';
  return isJoined && item?.sort === 'named' && item.named.isSpecial && item.named.note === null;
}

/** A target of these notes; null where nothing can be played with what is named. */
export function notes(fingerings: readonly Fingering[] | null, items: readonly Item[]): Target {
  return { sort: 'notes', fingerings, others: [], isStretch: false, bound: null, named: null, items };
}
