/** Reads what a clause speaks of: notes, stretches of notes, parts. */
import { type Instrument, midi } from '../mechanism/index.ts';
import type { Item, Named } from './items.ts';
import { partsNamed } from './items.ts';
import type { NoteBook } from './note-book.ts';
import type { Level } from './schema.ts';
import { fingeringsOfParts } from './special-fingerings.ts';
import { isPlayedWith, notes, type Target } from './target.ts';

/** Reads targets with what has been read before in mind: the level of a list, the note that "below that" refers to. */
export type TargetReader = {
  /** The target that begins at this item and the position after it, or null. */
  read(items: readonly Item[], start: number): { readonly target: Target; readonly next: number } | null;
  /** What joins one note to the next of a list has ended; a level no longer carries on. */
  endList(): void;
};

/** Notes named before: in the whole text ("below that"), and in the same sentence. */
export type NoteMemory = { last: number | null; near: number | null };

/** @param register the level that the whole clause is at ("with the octave key"), or null */
export function createTargetReader(
  instrument: Instrument,
  book: NoteBook,
  memory: NoteMemory,
  register: Level | null,
): TargetReader {
  let level: Level | null = null;
  const whole = [...book.standard];
  const fingerings = (from: number, to: number) =>
    whole.filter(({ note }) => midi(note) >= from && midi(note) <= to);
  const lowest = midi(whole[0]!.note);
  const highest = midi(whole.at(-1)!.note);

  function resolve(named: Named): { note: number | null; others: readonly number[] } {
    const { note } = named;
    if (note === null) return { note: null, others: [] };
    if (note.number !== null)
      return { note: book.fingeringOf(note.number) === null ? null : note.number, others: [] };
    // A key is no note that was played: it says nothing of the octave of the notes after it.
    if (named.hasNoun) return book.namedBy(note.pitchClass, named.level ?? register);
    level = named.level ?? level;
    const found = book.namedBy(note.pitchClass, level ?? register, memory.near);
    memory.near = found.note ?? memory.near;
    return found;
  }

  function single(named: Named, items: readonly Item[]): Target {
    if (named.isSpecial) {
      // A valve is spoken of as a part; its notes are meant where they are played with it.
      const played = partsNamed(named).filter(({ sort }) => sort !== 'valve');
      const special = fingeringsOfParts(instrument, played, named.note?.pitchClass ?? null);
      return { ...notes(special.length === 0 ? null : special, items), named, isStretch: special.length > 3 };
    }
    const { note, others } = resolve(named);
    if (note !== null) memory.last = note;
    const toList = (number: number) => [book.fingeringOf(number)!];
    return { ...notes(note === null ? null : toList(note), items), named, others: others.map(toList) };
  }

  /** "B flat with the side key"; without a note "everything with the second valve". */
  function withPart(
    by: Named | null,
    { named }: Extract<Item, { sort: 'named' }>,
    items: readonly Item[],
  ): Target | null {
    const found = fingeringsOfParts(instrument, partsNamed(named), by?.note?.pitchClass ?? null);
    return found.length === 0 ? null : { ...notes(found, items), named };
  }

  /** "B flat in the staff": the note of that name among those of the stretch. */
  function withinStretch(
    named: Named,
    { stretch }: Extract<Item, { sort: 'stretch' }>,
    items: readonly Item[],
    begin: number,
    start: number,
  ): Target | null {
    const { note, level, isSpecial } = named;
    if (note === null || note.number !== null || level !== null || isSpecial) return null;
    const found = book.stretch(stretch.take).filter((one) => midi(one.note) % 12 === note.pitchClass);
    if (found.length !== 1) return null;
    memory.last = midi(found[0]!.note);
    memory.near = memory.last;
    return { ...notes(found, items.slice(begin, start + 2)), named };
  }

  function span(
    from: number | null,
    to: number | null,
    items: readonly Item[],
    bound: number | null = null,
  ): Target {
    if (from === null || to === null) return notes(null, items);
    const end = bound === null ? null : book.fingeringOf(bound);
    return {
      ...notes(fingerings(Math.min(from, to), Math.max(from, to)), items),
      isStretch: true,
      bound: end,
    };
  }

  /** The end of a range whose beginning is known: the note of that name on the right side, or else the nearest. */
  function end(named: Named, start: number, way: 'up' | 'down' | 'either'): number | null {
    const { note } = named;
    if (note === null) return null;
    if (note.number !== null || named.level !== null) return resolve(named).note;
    const all = book.called(note.pitchClass);
    const right = all.filter((number) =>
      way === 'either' ? number !== start : way === 'up' ? number > start : number < start,
    );
    return right.reduce<number | null>(
      (best, number) => (best === null || Math.abs(number - start) < Math.abs(best - start) ? number : best),
      null,
    );
  }

  function beyond(which: 'below' | 'above', item: Item | undefined, items: readonly Item[]): Target | null {
    const named = item?.sort === 'named' ? item.named : null;
    const found = named === null || named.note === null ? { note: memory.last, others: [] } : resolve(named);
    if (found.note === null) return null;
    if (named !== null) memory.last = found.note;
    const make = (number: number) =>
      which === 'below' ? span(lowest, number - 1, items, number) : span(number + 1, highest, items, number);
    const others = found.others.map((other) => make(other).fingerings!).filter((list) => list.length > 0);
    const main = make(found.note);
    return { ...main, others, fingerings: main.fingerings!.length === 0 ? null : main.fingerings };
  }

  /** "X", "X to Y", "X down", "X and up", from the item that names X. */
  function fromNote(items: readonly Item[], start: number, begin: number): { target: Target; next: number } {
    const item = items[start]! as Extract<Item, { sort: 'named' }>;
    const following = items[start + 1];
    const after = items[start + 2];
    const isTo =
      following?.sort === 'dash' ||
      (following?.sort === 'direction' && /^(to|downTo|upTo)$/.test(following.which));
    const first = item.named.isSpecial ? null : resolve(item.named).note;
    if (
      first !== null &&
      isTo &&
      after?.sort === 'named' &&
      after.named.note !== null &&
      !after.named.isSpecial
    ) {
      const which = following.sort === 'direction' ? following.which : 'to';
      const way = which === 'downTo' ? 'down' : which === 'upTo' ? 'up' : 'either';
      const last = end(after.named, first, way);
      memory.last = last;
      return { target: span(first, last, items.slice(begin, start + 3)), next: start + 3 };
    }
    if (
      first !== null &&
      following?.sort === 'direction' &&
      /^and(Down|Up)$/.test(following.which) &&
      after?.sort !== 'named'
    ) {
      memory.last = first;
      const { others } = resolve(item.named);
      const other = following.which === 'andDown' ? lowest : highest;
      const target = span(other, first, items.slice(begin, start + 2));
      return {
        target: {
          ...target,
          others: others.map((number) => fingerings(Math.min(other, number), Math.max(other, number))),
        },
        next: start + 2,
      };
    }
    const placed =
      following?.sort === 'stretch' ? withinStretch(item.named, following, items, begin, start) : null;
    if (placed !== null) return { target: placed, next: start + 2 };
    const special = isPlayedWith(following, after)
      ? withPart(item.named, after, items.slice(begin, start + 3))
      : null;
    if (special !== null) return { target: special, next: start + 3 };
    const isLevelled = following?.sort === 'level' && item.named.level === null;
    const named = isLevelled ? { ...item.named, level: following.level } : item.named;
    const next = isLevelled ? start + 2 : start + 1;
    return { target: single(named, items.slice(begin, next)), next };
  }

  function read(items: readonly Item[], start: number): { target: Target; next: number } | null {
    const item = items[start]!;
    const following = items[start + 1];
    const hasNote =
      following?.sort === 'named' && following.named.note !== null && !following.named.isSpecial;
    if (item.sort === 'stretch') {
      const found = book.stretch(item.stretch.take);
      return {
        target: { ...notes(found.length === 0 ? null : found, [item]), isStretch: true },
        next: start + 1,
      };
    }
    if (item.sort === 'particle' && (item.particle === 'all' || item.particle === 'nothing')) {
      const after = items[start + 2];
      const played = isPlayedWith(following, after)
        ? withPart(null, after, items.slice(start, start + 3))
        : null;
      if (played !== null) return { target: { ...played, isStretch: true }, next: start + 3 };
      return {
        target: { ...notes(whole.filter(book.isEverywhere), [item]), sort: 'all', isStretch: true },
        next: start + 1,
      };
    }
    if (item.sort === 'particle' && item.particle === 'rest')
      return { target: { ...notes([], [item]), sort: 'rest', isStretch: true }, next: start + 1 };
    if (item.sort === 'particle' && item.particle === 'some')
      return { target: notes(null, [item]), next: start + 1 };
    if (item.sort === 'named') return fromNote(items, start, start);
    if (item.sort !== 'direction') return null;
    switch (item.which) {
      case 'below':
      case 'above': {
        if (following?.sort === 'particle' && following.particle === 'some')
          return { target: notes(null, items.slice(start, start + 2)), next: start + 2 };
        const target = beyond(
          item.which,
          hasNote ? following : undefined,
          items.slice(start, start + (hasNote ? 2 : 1)),
        );
        return target === null ? null : { target, next: start + (hasNote ? 2 : 1) };
      }
      case 'from':
        return hasNote ? fromNote(items, start + 1, start) : null;
      case 'downTo':
      case 'upTo': {
        if (!hasNote) return null;
        const { note } = resolve(following.named);
        memory.last = note;
        return {
          target: span(item.which === 'downTo' ? highest : lowest, note, items.slice(start, start + 2)),
          next: start + 2,
        };
      }
      case 'between': {
        const other = items[start + 3];
        if (!hasNote || other?.sort !== 'named') return null;
        const { note } = resolve(following.named);
        if (note === null) return null;
        return {
          target: span(note, end(other.named, note, 'either'), items.slice(start, start + 4)),
          next: start + 4,
        };
      }
      default:
        return null;
    }
  }

  return { read, endList: () => (level = null) };
}
