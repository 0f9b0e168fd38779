/** Clauses: what is spoken of and what is said of it, in the order of the words. */
import type { Item } from './items.ts';
import type { NamedNote } from './note-words.ts';
import type { Answer, Level, Sign, Story } from './schema.ts';
import type { Target } from './target.ts';
import type { TargetReader } from './targets.ts';

export type Subject = {
  readonly sort: 'subject';
  readonly target: Target;
  /** "on D": belongs to what was said before it. */
  readonly hasPreposition: boolean;
  readonly isOnly: boolean;
  readonly isExcept: boolean;
  readonly isAfterComma: boolean;
};

export type Predicate = {
  readonly sort: 'predicate';
  readonly answer: Answer | null;
  readonly sign: Sign | null;
  readonly isNegated: boolean;
  /** "hardly speaks". */
  readonly isHardly: boolean;
  readonly isAfterComma: boolean;
  /** The note that comes instead ("comes out as A"). */
  readonly sounded: NamedNote | null;
  /** "Nothing below D": says by itself that no note speaks. */
  readonly isNothing: boolean;
  readonly items: readonly Item[];
};

export type Told = { readonly item: Item; readonly story: Story; readonly isNegated: boolean };

export type Clause = {
  readonly elements: readonly (Subject | Predicate)[];
  readonly stories: readonly Told[];
  /** Joined to the clause before by a word such as "but". */
  readonly isLinked: boolean;
  /** Ends in "does", "is": what was said before holds here. */
  readonly endsInAuxiliary: boolean;
};

/** Cuts items at full stops and at words that begin a new thought. */
export function splitClauses(items: readonly Item[]): { items: Item[]; isLinked: boolean }[] {
  const clauses: { items: Item[]; isLinked: boolean }[] = [{ items: [], isLinked: false }];
  for (const item of items) {
    const isBreak = item.sort === 'particle' && item.particle === 'breaks';
    if (item.sort === 'stop' || isBreak) clauses.push({ items: [], isLinked: isBreak });
    else clauses.at(-1)!.items.push(item);
  }
  return clauses.filter((clause) => clause.items.length > 0);
}

/** The level at which a whole clause stands: "with the octave key". */
export function levelOf(items: readonly Item[]): Level | null {
  const found = items.find((item) => item.sort === 'level' && item.level.register !== undefined);
  return found?.sort === 'level' ? found.level : null;
}

/** Reads one clause. */
export function readClause(all: readonly Item[], isLinked: boolean, reader: TargetReader): Clause {
  const items = all.filter(
    (item) =>
      item.sort !== 'plain' &&
      item.sort !== 'unknown' &&
      !(
        item.sort === 'particle' &&
        /^(plain|skipped|letterCues|noteNouns|partNouns|instruments)$/.test(item.particle)
      ),
  );
  const elements: (Subject | Predicate)[] = [];
  const stories: Told[] = [];
  let denial: Denial | null = null;
  let hardly: Item | null = null;
  let isAfterComma = false;
  let flags = { hasPreposition: false, isOnly: false, isExcept: false };
  const endFlags = () => {
    flags = { hasPreposition: false, isOnly: false, isExcept: false };
    isAfterComma = false;
  };
  const settleDenial = () => {
    if (denial !== null) elements.splice(denial.at, 0, bareDenial(denial));
    denial = null;
  };

  for (let at = 0; at < items.length; ) {
    const item = items[at]!;
    const found = reader.read(items, at);
    if (isAfterComma && isContrast(item, items[at + 1], elements)) {
      flags = { ...flags, isExcept: true };
      at += 1;
      continue;
    }
    if (item.sort === 'particle' && (item.particle === 'negations' || item.particle === 'nothing')) {
      if (denial !== null && elements.length > denial.at) settleDenial();
      denial = { at: elements.length, item, isAfterComma };
      flags = { ...flags, isOnly: false };
    }
    if (found !== null) {
      elements.push({ sort: 'subject', target: found.target, ...flags, isAfterComma });
      endFlags();
      at = found.next;
      continue;
    }
    at += 1;
    if (item.sort === 'said') {
      const isNegated = denial !== null;
      if (item.story !== null) stories.push({ item, story: item.story, isNegated });
      const heard = readHeard(item.answer, elements.at(-1), items[at]);
      if (heard.isBefore) elements.pop();
      if (heard.isAfter) at += 1;
      const used = [denial?.item, hardly, heard.item, item].filter((one): one is Item => one != null);
      elements.push({
        sort: 'predicate',
        answer: item.answer,
        sign: item.sign,
        isNegated,
        isHardly: hardly !== null,
        isAfterComma,
        sounded: heard.note,
        isNothing: false,
        items: used,
      });
      denial = null;
      hardly = null;
      reader.endList();
      const isOnly = flags.isOnly && !isNegated;
      endFlags();
      flags = { ...flags, isOnly };
    } else if (item.sort === 'story') {
      stories.push({ item, story: item.story, isNegated: denial !== null });
      denial = null;
      flags = { ...flags, isOnly: false };
    } else if (item.sort === 'mute') {
      denial = null;
      flags = { ...flags, isOnly: false };
    } else if (item.sort === 'comma') {
      if (denial !== null && elements.length > denial.at) settleDenial();
      isAfterComma = true;
      flags = { ...flags, hasPreposition: false };
    } else if (item.sort === 'particle') {
      if (item.particle === 'hardly') hardly = item;
      if (item.particle === 'only') flags = { ...flags, isOnly: true };
      if (item.particle === 'except') flags = { ...flags, isExcept: true };
      if (item.particle === 'prepositions') flags = { ...flags, hasPreposition: true };
    }
  }
  settleDenial();
  const last = items.at(-1);
  const endsInAuxiliary = last?.sort === 'particle' && last.particle === 'auxiliaries';
  return { elements: refineAll(elements), stories, isLinked, endsInAuxiliary };
}

/**
 * "B flat, not B, is silent": a "not" right before a note excepts that note. After something that was itself denied ("C does
 * not speak, not D") it may just as well mean "nor D".
 */
function isContrast(item: Item, next: Item | undefined, before: Clause['elements']): boolean {
  const isNot = item.sort === 'particle' && item.particle === 'negations' && next?.sort === 'named';
  const isDenied = before.some((element) => element.sort === 'predicate' && element.isNegated);
  return isNot && before.length > 0 && !isDenied;
}

type Denial = { readonly at: number; readonly item: Item; readonly isAfterComma: boolean };

/** A "not" with nothing after it: it denies what was said before. */
function bareDenial({ item, isAfterComma }: Denial): Predicate {
  return {
    sort: 'predicate',
    answer: null,
    sign: null,
    isNegated: true,
    isHardly: false,
    isAfterComma,
    sounded: null,
    isNothing: item.sort === 'particle' && item.particle === 'nothing',
    items: [item],
  };
}

/** The note that is heard instead of the fingered one, where the words name it before ("A instead of G") or after. */
function readHeard(answer: Answer | null, before: Subject | Predicate | undefined, after: Item | undefined) {
  if (answer?.names === 'after' && after?.sort === 'named' && after.named.note !== null)
    return { note: after.named.note, item: after, isBefore: false, isAfter: true };
  const target = answer?.names === 'before' && before?.sort === 'subject' ? before.target : null;
  const note = target?.named?.note ?? null;
  return {
    note,
    item: note === null ? null : (target?.items[0] ?? null),
    isBefore: note !== null,
    isAfter: false,
  };
}

/** "Everything below D", "from D down everything", "nothing comes out below D": the stretch takes the place of "everything". */
function refineAll(elements: readonly (Subject | Predicate)[]): (Subject | Predicate)[] {
  return elements.filter((element, index) => {
    if (element.sort !== 'subject' || element.target.sort !== 'all') return true;
    const before = elements[index - 1];
    if (before?.sort === 'subject' && before.target.isStretch && before.target.sort === 'notes') return false;
    const next = elements.slice(index + 1).find((other) => other.sort === 'subject');
    return next === undefined || next.isExcept || next.isAfterComma;
  });
}
