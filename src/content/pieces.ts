/** Files that are written in pieces: what belongs together for a reader has a file of its own, and all pieces make one. */
import type { ContentProblem } from './content-error.ts';
import type { Documents } from './documents.ts';

/** By name: `checks.yaml` may be written as checks.yaml, as the files in checks/, or as both. Editions of before have one file. */
const inPieces = [
  'cautions',
  'checks',
  'complaint',
  'faults',
  'jobs',
  'outcomes',
  'sources',
  'words',
] as const;

/** The names of files that may be written in pieces, as they are told to whoever writes a file that nobody reads. */
export const pieceNames: readonly string[] = inPieces.map((name) => `${name}/<piece>.yaml`);

type Piece = { readonly file: string; readonly document: Readonly<Record<string, unknown>> };
/** From which piece each entry of each list came, and each other value. */
type Origin = { readonly lists: Map<string, string[]>; readonly values: Map<string, string> };

/** Documents in which the pieces of a file stand as that one file, and the way back from a place in it to its piece. */
export type Joined = {
  readonly documents: Documents;
  readonly problems: readonly ContentProblem[];
  /** The same problem, told of the piece in which it can be put right. */
  placeOf(problem: ContentProblem): ContentProblem;
};

/**
 * Joins the pieces, in order of their names: lists become one list; anything else stands in one piece alone, and an id in
 * one alone.
 */
export function joinPieces(documents: Documents): Joined {
  const problems: ContentProblem[] = [];
  const origins = new Map<string, Origin>();
  const joined: Record<string, unknown> = {};
  const pieces = new Map<string, Piece[]>();
  for (const file of Object.keys(documents).sort()) {
    const whole = wholeOf(file);
    if (whole === null) joined[file] = documents[file];
    else if (isRecord(documents[file]))
      pieces.set(whole, [...(pieces.get(whole) ?? []), { file, document: documents[file] }]);
    else problems.push({ file, path: [], message: 'must be lists and values by name' });
  }
  for (const [whole, parts] of pieces) {
    const origin: Origin = { lists: new Map(), values: new Map() };
    origins.set(whole, origin);
    joined[whole] = joinOne(parts, origin, problems);
  }
  return { documents: joined, problems, placeOf: (problem) => placeIn(origins.get(problem.file), problem) };
}

/** The file of which this one is a piece (a single file is one of itself), or null for a file that has none. */
function wholeOf(file: string): string | null {
  const [, name] = /^([^/]+?)(?:\/[^/]+)?\.ya?ml$/.exec(file) ?? [];
  return inPieces.some((one) => one === name) ? `${name}.yaml` : null;
}

function joinOne(
  pieces: readonly Piece[],
  { lists, values }: Origin,
  problems: ContentProblem[],
): Record<string, unknown> {
  const joined: Record<string, unknown> = {};
  const ids = new Map<string, string>();
  for (const { file, document } of pieces) {
    for (const [key, value] of Object.entries(document)) {
      const earlier = joined[key];
      if (Array.isArray(value) && (earlier === undefined || Array.isArray(earlier))) {
        joined[key] = [...((earlier as unknown[] | undefined) ?? []), ...value];
        lists.set(key, [...(lists.get(key) ?? []), ...value.map(() => file)]);
        for (const [index, entry] of value.entries()) {
          const name = isRecord(entry) ? (entry.id ?? (key === 'kinds' ? entry.kind : undefined)) : undefined;
          const id = typeof name === 'string' ? `${key} ${name}` : null;
          const first = id === null ? undefined : ids.get(id);
          if (first !== undefined && first !== file)
            problems.push({ file, path: [key, index], message: `${name} stands in ${first} too; keep one` });
          if (id !== null) ids.set(id, file);
        }
      } else if (earlier === undefined) {
        joined[key] = value;
        values.set(key, file);
      } else {
        const first = values.get(key) ?? lists.get(key)?.[0] ?? 'another piece';
        problems.push({ file, path: [key], message: `stands in ${first} too; keep one` });
      }
    }
  }
  return joined;
}

function placeIn(origin: Origin | undefined, problem: ContentProblem): ContentProblem {
  if (origin === undefined) return problem;
  const [key, index, ...rest] = problem.path;
  const from = typeof key === 'string' ? origin.lists.get(key) : undefined;
  if (from !== undefined && typeof index === 'number' && from[index] !== undefined) {
    const file = from[index];
    return { ...problem, file, path: [key!, index - from.indexOf(file), ...rest] };
  }
  const file = typeof key === 'string' ? origin.values.get(key) : undefined;
  return file === undefined ? problem : { ...problem, file };
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return value !== null && typeof value === 'object' && !Array.isArray(value);
}
