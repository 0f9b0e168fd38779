/** What goes onto a sheet of limited room: the endings that lead most instruments to a named part for the lines they take. */
import type { Check } from '../diagnosis/index.ts';
import { drawGraph, endingKey, type SheetGraph } from './graph.ts';
import type { AskPoint, Ending, EndPoint, Point } from './policy.ts';

/** The lines that something takes: its own, and those of texts that stand on the sheet once, whoever else needs them. */
export type Lines = {
  readonly own: number;
  readonly shared: readonly { readonly text: string; readonly lines: number }[];
};

/** Room in lines, and how many of them a question and an ending take. */
export type Room = {
  readonly lines: number;
  readonly ofQuestion: (check: Check) => Lines;
  readonly ofEnding: (ending: Ending) => Lines;
};

/** Writing equal parts down once leaves room over; how much may be given out again is halved in so many times. */
const ROUNDS = 6;

/**
 * The questions and endings that fit. What ends without a named part is left off the sheet: it says the same as everything
 * that is off it.
 */
export function fitGraph(root: Point, room: Room): SheetGraph {
  const ends = endsOf(root);
  const draw = (lines: number): SheetGraph => {
    const kept = chooseEnds(ends, { ...room, lines });
    return drawGraph(root, (end) => kept.has(end));
  };
  let best = draw(room.lines);
  let fits = room.lines;
  let tooMuch = 2 * room.lines;
  for (let round = 0; round < ROUNDS; round += 1) {
    const lines = (fits + tooMuch) / 2;
    const graph = draw(lines);
    if (linesOf(graph, room) > room.lines) tooMuch = lines;
    else {
      fits = lines;
      if (graph.covered > best.covered) best = graph;
    }
  }
  return best;
}

/** The lines that questions and endings take together. */
export function linesOf({ questions, endings }: SheetGraph, { ofQuestion, ofEnding }: Room): number {
  const sheet = new Written();
  for (const { check } of questions) sheet.add(ofQuestion(check));
  for (const { ending } of endings) sheet.add(ofEnding(ending));
  return sheet.lines;
}

/** What stands on a sheet so far. */
class Written {
  lines = 0;
  readonly #texts = new Set<string>();

  /** The lines that these would add. */
  cost(parts: readonly Lines[]): number {
    const texts = new Set(this.#texts);
    let sum = 0;
    for (const { own, shared } of parts) {
      sum += own;
      for (const { text, lines } of shared) if (!texts.has(text)) sum += lines;
      for (const { text } of shared) texts.add(text);
    }
    return sum;
  }

  add(...parts: readonly Lines[]): void {
    this.lines += this.cost(parts);
    for (const { shared } of parts) for (const { text } of shared) this.#texts.add(text);
  }
}

type End = { readonly end: EndPoint; readonly path: readonly AskPoint[] };

/** Every end point that names a part or says that nothing is wrong, with the questions on the way to it. */
function endsOf(root: Point): End[] {
  const ends: End[] = [];
  const visit = (point: Point | null, path: readonly AskPoint[]): void => {
    if (point === null) return;
    if (point.kind === 'ask') for (const { next } of point.answers) visit(next, [...path, point]);
    else if (point.ending.kind === 'healthy' || point.ending.fault !== null) ends.push({ end: point, path });
  };
  visit(root, []);
  return ends;
}

/** One end point after the other, each time the one that is reached most for every line that it adds. */
function chooseEnds(ends: readonly End[], room: Room): Set<EndPoint> {
  const chosen = new Set<EndPoint>();
  const asked = new Set<AskPoint>();
  const ended = new Set<string>();
  const sheet = new Written();
  const partsOf = ({ end, path }: End): Lines[] => [
    ...path.filter((point) => !asked.has(point)).map(({ check }) => room.ofQuestion(check)),
    ...(ended.has(endingKey(end.ending)) ? [] : [room.ofEnding(end.ending)]),
  ];
  for (;;) {
    let best: { one: End; parts: Lines[]; worth: number } | null = null;
    for (const one of ends) {
      if (chosen.has(one.end)) continue;
      const parts = partsOf(one);
      const cost = sheet.cost(parts);
      // What costs nothing more is always worth it.
      const worth = one.end.reach / Math.max(cost, 0.01);
      if (sheet.lines + cost <= room.lines && (best === null || worth > best.worth))
        best = { one, parts, worth };
    }
    if (best === null) return chosen;
    sheet.add(...best.parts);
    chosen.add(best.one.end);
    ended.add(endingKey(best.one.end.ending));
    for (const point of best.one.path) asked.add(point);
  }
}
