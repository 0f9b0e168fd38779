/** Expressions of the vocabulary, found in a row of words: the longest one that stands at a place. */
import { stemOf, straighten, type Token } from './tokens.ts';

type Node<Meaning> = { readonly next: Map<string, Node<Meaning>>; readonly meanings: Meaning[] };

export type Match<Meaning> = { readonly length: number; readonly meanings: readonly Meaning[] };

/** Expressions with what they mean, to look in. */
export type Lookup<Meaning> = {
  /** The longest expression that begins at this token, or null. */
  match(tokens: readonly Token[], start: number): Match<Meaning> | null;
  /** Every word that stands in an expression, stemmed. */
  readonly stems: ReadonlySet<string>;
};

/** Expressions with what they mean, to add to. */
export type Expressions<Meaning> = Lookup<Meaning> & { add(expression: string, meaning: Meaning): void };

/** Two sets of expressions as one; where both find as much, the meanings of the first come first. */
export function joinExpressions<Meaning>(one: Lookup<Meaning>, other: Lookup<Meaning>): Lookup<Meaning> {
  return {
    stems: new Set([...one.stems, ...other.stems]),
    match(tokens, start) {
      const [first, second] = [one.match(tokens, start), other.match(tokens, start)];
      if (first === null || second === null) return first ?? second;
      if (first.length !== second.length) return first.length > second.length ? first : second;
      return { length: first.length, meanings: [...first.meanings, ...second.meanings] };
    },
  };
}

/** @param skipped stems that may stand between the words of an expression ("very", "really") */
export function createExpressions<Meaning>(skipped: ReadonlySet<string>): Expressions<Meaning> {
  const root: Node<Meaning> = { next: new Map(), meanings: [] };
  const stems = new Set<string>();
  return {
    stems,
    add(expression, meaning) {
      let ends = new Set([root]);
      for (const { isOptional, choices } of partsOf(expression)) {
        const next = new Set(isOptional ? ends : []);
        for (const row of choices) {
          for (const stem of row) stems.add(stem);
          for (const end of ends) next.add(row.reduce(follow, end));
        }
        ends = next;
      }
      ends.delete(root);
      for (const { meanings } of ends) if (!meanings.includes(meaning)) meanings.push(meaning);
    },
    match: (tokens, start) => walk(root, tokens, start, skipped),
  };
}

/** The longest way through the words; one that may be left out is tried both as a step and left out. */
function walk<Meaning>(
  root: Node<Meaning>,
  tokens: readonly Token[],
  start: number,
  skipped: ReadonlySet<string>,
): Match<Meaning> | null {
  const endAt = ({ meanings }: Node<Meaning>, at: number) =>
    meanings.length > 0 ? { length: at - start, meanings } : null;
  const longestFrom = (node: Node<Meaning>, at: number): Match<Meaning> | null => {
    const token = tokens[at];
    if (token === undefined) return null;
    const following = node.next.get(token.stem);
    const stepped =
      following === undefined ? null : (longestFrom(following, at + 1) ?? endAt(following, at + 1));
    const isSkippable = at > start && (skipped.has(token.stem) || token.word === '-');
    const past = isSkippable ? longestFrom(node, at + 1) : null;
    return (past?.length ?? 0) > (stepped?.length ?? 0) ? past : stepped;
  };
  return longestFrom(root, start);
}

/** The node one word on, made where there is none. */
function follow<Meaning>({ next }: Node<Meaning>, stem: string): Node<Meaning> {
  const known = next.get(stem) ?? { next: new Map(), meanings: [] };
  next.set(stem, known);
  return known;
}

type ExpressionPart = { readonly isOptional: boolean; readonly choices: readonly (readonly string[])[] };

/** The parts of an expression in order, each with the rows of stems that may stand there. */
function partsOf(expression: string): ExpressionPart[] {
  return [...straighten(expression).matchAll(/\([^()]*\)|[^\s()]+/g)].map(([part]) => {
    const isOptional = part.startsWith('(');
    const choices = (isOptional ? part.slice(1, -1) : part).split('|');
    return { isOptional, choices: choices.map((words) => words.trim().split(/\s+/).map(stemOf)) };
  });
}

/**
 * All rows of stems that an expression stands for: `a|b` either, `(a|b c)` either or nothing.
 * @throws RangeError for an expression without a word.
 */
export function spellOut(expression: string): string[][] {
  let rows: string[][] = [[]];
  for (const { isOptional, choices } of partsOf(expression)) {
    rows = rows.flatMap((row) => [
      ...(isOptional ? [row] : []),
      ...choices.map((stems) => [...row, ...stems]),
    ]);
  }
  const full = rows.filter((row) => row.length > 0);
  if (full.length === 0) throw new RangeError(`"${expression}" has no word in it`);
  return full;
}
