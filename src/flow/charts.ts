/** The whole set of charts that makes one flow, and what is common to walking through it. */
import type { Caution, CautionsFile, JobsFile, Outcome, OutcomesFile } from './ending-schema.ts';
import type { Branch, Choice, MainFile, Memory, PageState, ProcedureFile, State } from './schema.ts';

/** The files of one edition, parsed. Every file has been through its schema. */
export type Charts = {
  readonly main: MainFile;
  readonly procedures: readonly ProcedureFile[];
  readonly outcomes: OutcomesFile;
  readonly jobs: JobsFile;
  readonly cautions: CautionsFile;
  /** Names of blanks that the families of instruments fill. */
  readonly blanks: readonly string[];
};

/** Something wrong in a chart: which file, which state, where in the file (a path of keys), and what to do. */
export type FlowProblem = {
  readonly file: string;
  readonly state: string | null;
  readonly path: readonly (string | number)[];
  readonly message: string;
};

/** Thrown when charts do not fit together; carries every problem found. */
export class FlowError extends Error {
  readonly problems: readonly FlowProblem[];

  constructor(problems: readonly FlowProblem[]) {
    super(
      problems
        .map(
          (problem) =>
            `${problem.file}${problem.state === null ? '' : `, state ${problem.state}`}: ${problem.message}`,
        )
        .join('\n'),
    );
    this.name = 'FlowError';
    this.problems = problems;
  }
}

/** Reports one problem: in which state, at which path of the file, and what to do. */
export type Report = (state: string | null, path: readonly (string | number)[], message: string) => void;

/** One chart seen alike, whether it is the main one or a procedure. */
export type Chart = {
  readonly file: string;
  /** Dotted path before a state's name: '' for the main chart. */
  readonly prefix: string;
  readonly procedure: ProcedureFile | null;
  readonly memory: Memory;
  readonly starts: string;
  readonly wayOut: Choice;
  readonly states: Readonly<Record<string, State>>;
};

/** The name of the main chart's state that holds the procedures, or undefined where it has none or several. */
export function procedureState(main: MainFile): string | undefined {
  const names = Object.keys(main.states).filter((name) => main.states[name]!.kind === 'procedure');
  return names.length === 1 ? names[0] : undefined;
}

/** All charts, the main one first. */
export function listCharts(charts: Charts): Chart[] {
  const holder = procedureState(charts.main) ?? 'procedure';
  return [
    { file: 'main.yaml', prefix: '', procedure: null, ...pickChart(charts.main) },
    ...charts.procedures.map((procedure) => ({
      file: `procedures/${procedure.procedure}.yaml`,
      prefix: `${holder}.${procedure.procedure}.`,
      procedure,
      ...pickChart(procedure),
    })),
  ];
}

function pickChart({ memory, starts, wayOut, states }: MainFile | ProcedureFile) {
  return { memory, starts, wayOut, states };
}

/** Whether people see this state and answer it. */
export function isPage(state: State): state is PageState {
  return (
    state.kind === 'question' ||
    state.kind === 'instruction' ||
    state.kind === 'proposals' ||
    state.kind === 'notes' ||
    state.kind === 'check'
  );
}

/** The answers of a page, its chart's way out last unless the page has an answer of that id. */
export function choicesOf(chart: Pick<Chart, 'wayOut'>, state: PageState): readonly Choice[] {
  const hasOwn = state.choices.some((choice) => choice.id === chart.wayOut.id);
  return hasOwn ? state.choices : [...state.choices, { ...chart.wayOut, tone: 'quiet' }];
}

/** A choice as branches: its own condition stands before each of them. */
export function branchesOf(choice: Choice): Branch[] {
  const { when, to, exit, set, count, go } = choice;
  if (go === undefined) return [{ when, to, exit, set, count } as Branch];
  return go.map((branch) => ({
    ...branch,
    ...(when === undefined && branch.when === undefined
      ? {}
      : { when: [...(when ?? []), ...(branch.when ?? [])] }),
    set: { ...set, ...branch.set },
    count: { ...count, ...branch.count },
  }));
}

/** Everything that can move a run on from a state: the event's name, where in the file it stands, and the branches in order. */
export function listMoves(
  chart: Chart,
  name: string,
): { event: string; path: (string | number)[]; branches: readonly Branch[] }[] {
  const state = chart.states[name]!;
  const at = ['states', name];
  if (state.kind === 'route') return [{ event: '', path: [...at, 'go'], branches: state.go }];
  if (state.kind === 'weigh') {
    return Object.entries(state.verdicts).map(([verdict, branches]) => ({
      event: `verdict.${verdict}`,
      path: [...at, 'verdicts', verdict],
      branches,
    }));
  }
  if (!isPage(state)) return [];
  const moves = choicesOf(chart, state).map((choice) => {
    const index = state.choices.indexOf(choice);
    return {
      event: `choice.${choice.id}`,
      path: index < 0 ? ['wayOut'] : [...at, 'choices', index],
      branches: branchesOf(choice),
    };
  });
  if (state.kind === 'check')
    return [...moves, { event: 'recorded', path: [...at, 'recorded'], branches: state.recorded }];
  return state.kind === 'notes' && state.none !== undefined
    ? [...moves, { event: 'none', path: [...at, 'none'], branches: state.none }]
    : moves;
}

/** Entries by their id. */
export function indexById<T extends { id: string }>(entries: readonly T[]): ReadonlyMap<string, T> {
  return new Map(entries.map((entry) => [entry.id, entry]));
}

export type { Caution, Outcome };
