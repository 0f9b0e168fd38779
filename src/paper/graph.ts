/** The tree of the policy as a numbered list of questions: what goes on alike stands there once. */
import type { Check } from '../diagnosis/index.ts';
import type { AskPoint, Ending, EndPoint, Point } from './policy.ts';

/** Where an answer leads: to a question by its number, to an ending by its number, or off the sheet. */
export type Target =
  | { readonly to: 'question'; readonly number: number }
  | { readonly to: 'ending'; readonly number: number }
  | { readonly to: 'off-the-sheet' };

export type Question = {
  readonly number: number;
  readonly check: Check;
  readonly isProof: boolean;
  readonly answers: readonly { readonly id: string; readonly label: string; readonly target: Target }[];
};

/** Questions and endings are numbered from 1, each after everything that leads to it. */
export type SheetGraph = {
  readonly start: Target;
  readonly questions: readonly Question[];
  readonly endings: readonly { readonly number: number; readonly ending: Ending; readonly reach: number }[];
  /** The share of instruments with this complaint that come to one of the endings. */
  readonly covered: number;
};

type Node = { readonly key: string; readonly asks: AskPoint | null };

/**
 * Cuts the tree down to what leads to the end points that are kept, drops questions whose every answer leads to the same
 * place, and writes down equal subtrees once.
 * @param isKept whether an end point stands on the sheet; one that does not leads off it
 */
export function drawGraph(root: Point, isKept: (end: EndPoint) => boolean): SheetGraph {
  const nodes = new Map<Point, Node>();
  const endings = new Map<string, { ending: Ending; reach: number }>();
  const names = new Map<string, string>();
  let covered = 0;
  const keyOf = (point: Point | null): string => {
    if (point === null || (point.kind === 'end' && !isKept(point))) return OFF;
    const known = nodes.get(point);
    if (known !== undefined) return known.key;
    let node: Node;
    if (point.kind === 'end') {
      const key = endingKey(point.ending);
      const ending = endings.get(key) ?? { ending: point.ending, reach: 0 };
      ending.reach += point.reach;
      covered += point.reach;
      endings.set(key, ending);
      node = { key, asks: null };
    } else {
      const keys = point.answers.map(({ id, next }) => [id, keyOf(next)]);
      const first = keys[0]![1]!;
      node = keys.every(([, key]) => key === first)
        ? { key: first, asks: null }
        : { key: shorten(names, JSON.stringify([point.check.id, point.isProof, keys])), asks: point };
    }
    nodes.set(point, node);
    return node.key;
  };
  const start = keyOf(root);
  return number(start, { nodes, endings, keyOf, covered });
}

const OFF = 'off';

/** The same text for endings that say the same; why something is for the bench makes no difference on paper. */
export function endingKey(ending: Ending): string {
  if (ending.kind === 'bench') return JSON.stringify([ending.kind, ending.fault]);
  return JSON.stringify(ending);
}

/** A short name for a text, the same for the same text: keys hold the keys of all that follows. */
function shorten(names: Map<string, string>, text: string): string {
  const name = names.get(text) ?? `question ${names.size}`;
  names.set(text, name);
  return name;
}

type Keyed = {
  readonly nodes: ReadonlyMap<Point, Node>;
  readonly endings: ReadonlyMap<string, { ending: Ending; reach: number }>;
  readonly keyOf: (point: Point | null) => string;
  readonly covered: number;
};

/** Numbers what can be come to, each after all that leads to it: depth first, the finished ones read backwards. */
function number(start: string, { nodes, endings, keyOf, covered }: Keyed): SheetGraph {
  const asking = new Map<string, AskPoint>();
  for (const { key, asks } of nodes.values()) if (asks !== null) asking.set(key, asks);
  const finished: string[] = [];
  const seen = new Set<string>();
  const visit = (key: string): void => {
    if (seen.has(key)) return;
    seen.add(key);
    const point = asking.get(key);
    for (const { next } of [...(point?.answers ?? [])].reverse()) visit(keyOf(next));
    finished.push(key);
  };
  visit(start);
  const order = finished.reverse();
  const questionNumbers = new Map(order.filter((key) => asking.has(key)).map((key, at) => [key, at + 1]));
  const endingNumbers = new Map(order.filter((key) => endings.has(key)).map((key, at) => [key, at + 1]));
  const targetOf = (key: string): Target => {
    if (key === OFF) return { to: 'off-the-sheet' };
    const question = questionNumbers.get(key);
    return question === undefined
      ? { to: 'ending', number: endingNumbers.get(key)! }
      : { to: 'question', number: question };
  };
  return {
    start: targetOf(start),
    questions: [...questionNumbers].map(([key, at]) => {
      const { check, isProof, answers } = asking.get(key)!;
      return {
        number: at,
        check,
        isProof,
        answers: answers.map(({ id, label, next }) => ({ id, label, target: targetOf(keyOf(next)) })),
      };
    }),
    endings: [...endingNumbers].map(([key, at]) => ({ number: at, ...endings.get(key)! })),
    covered,
  };
}
