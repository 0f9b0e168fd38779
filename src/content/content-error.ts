/** What is wrong in the files under flows/, told so that whoever wrote them can put it right. */

/** One problem: the file, the place in it as a path of keys, the state of a chart where there is one, and what to do. */
export type ContentProblem = {
  readonly file: string;
  readonly path: readonly (string | number)[];
  readonly state?: string | null;
  readonly message: string;
  /** From 1; known only where the file's text is at hand. */
  readonly line?: number;
  readonly column?: number;
};

/** Thrown when the content does not fit; carries every problem found, not only the first. */
export class ContentError extends Error {
  readonly problems: readonly ContentProblem[];

  constructor(problems: readonly ContentProblem[]) {
    super(
      `The files under flows/ need attention:\n${problems.map((problem) => `  ${tellProblem(problem)}`).join('\n')}`,
    );
    this.name = 'ContentError';
    this.problems = problems;
  }
}

/** A problem in one line: `main.yaml:12:7, state owner, choices > 0 > to: leads to ...`. */
export function tellProblem({ file, line, column, state, path, message }: ContentProblem): string {
  const position = line === undefined ? file : `${file}:${line}:${column ?? 1}`;
  const inState = state === undefined || state === null ? '' : `, state ${state}`;
  const rest = state !== undefined && state !== null && path[0] === 'states' ? path.slice(2) : path;
  const where = rest.length === 0 ? '' : `, ${rest.join(' > ')}`;
  return `${position}${inState}${where}: ${message}`;
}
