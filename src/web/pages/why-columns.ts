/** The columns of the pattern of notes: notes that tell the same stand together, so that it is short enough to see. */
import type { WhyNote, WhyPattern } from '../../runs/why-schema.ts';

export type ColumnModel = {
  title: string;
  pitches: string;
  heard: string;
  /** The place of one of its notes in the pattern; all of them tell the same. */
  place: number;
};

/** Beyond so many columns nobody finds a pattern any more, and a sheet of paper has no room; figure of ours. */
const mostInOrder = 6;
/** So many stretches of notes are named above a column. */
const mostNamed = 2;

/**
 * The columns. Only notes beside each other share one as long as few columns are left; else all that tell the same do: valves
 * and cross-fingerings make every other note alike.
 */
export function toColumns(pattern: WhyPattern): { columns: ColumnModel[]; isInOrder: boolean } {
  const keys = pattern.notes.map((note, place) => keyOf(pattern, note, place));
  const runs = runsOf(keys);
  const isInOrder = runs.length <= mostInOrder;
  const groups = isInOrder
    ? runs.map((run) => [run])
    : [...Map.groupBy(runs, ([place = 0]) => keys[place]).values()];
  return { columns: groups.map((group) => toColumn(pattern, group)), isInOrder };
}

/** What was heard of a note, and what each suspect says of it. */
function keyOf({ suspects }: WhyPattern, { words }: WhyNote, place: number): string {
  return JSON.stringify([
    words,
    suspects.map(({ predictions }) => [predictions[place]?.words, predictions[place]?.fits]),
  ]);
}

/** The places of notes beside each other that have the same key. */
function runsOf(keys: readonly string[]): number[][] {
  const runs: number[][] = [];
  keys.forEach((key, place) => {
    if (place > 0 && key === keys[place - 1]) runs.at(-1)?.push(place);
    else runs.push([place]);
  });
  return runs;
}

function toColumn({ notes }: WhyPattern, runs: readonly (readonly number[])[]): ColumnModel {
  const told = runs.map((run) => run.map((place) => noteAt(notes, place)));
  const [first = []] = told;
  const rest = told.slice(mostNamed).flat().length;
  const place = runs[0]?.[0] ?? 0;
  return {
    title: [
      ...told.slice(0, mostNamed).map((run) => sayRun(run, ({ name }) => name, ' to ')),
      ...(rest === 0 ? [] : [`and ${rest} more`]),
    ].join(', '),
    pitches:
      told.length === 1
        ? sayPitches(first)
        : told.map((run) => sayRun(run, ({ note }) => note, ' to ')).join(', '),
    heard: noteAt(notes, place).words,
    place,
  };
}

function sayRun(run: readonly WhyNote[], say: (note: WhyNote) => string, between: string): string {
  const [first, last] = [run[0], run.at(-1)];
  if (first === undefined || last === undefined) throw new RangeError('a column holds at least one note');
  return first === last ? say(first) : `${say(first)}${between}${say(last)}`;
}

function sayPitches(run: readonly WhyNote[]): string {
  if (run.length === 2) return sayRun(run, ({ note }) => note, ' and ');
  const said = sayRun(run, ({ note }) => note, ' to ');
  return run.length < 3 ? said : `${said}, ${run.length} notes`;
}

function noteAt(notes: readonly WhyNote[], place: number): WhyNote {
  const note = notes[place];
  if (note === undefined) throw new RangeError(`there is no note at ${place}`);
  return note;
}
