/** A procedure on paper: its chart as lettered steps, with a condition in words wherever the way depends on a count. */
import type { Flow, FlowState, ProcedureFile } from '../flow/index.ts';
import type { RunBook } from '../runs/book.ts';
import type { RunState } from '../runs/run-state.ts';
import type { Opening } from '../runs/schema.ts';
import { stepInWords } from '../runs/words.ts';
import { letterOf, type PaperSheet, type PaperWay } from '../web/paper-sheet.ts';

export type PaperSteps = Pick<
  PaperSheet['endings'][number],
  'text' | 'cautions' | 'adjusts' | 'words' | 'steps'
>;
type Treat = { readonly fault: string; readonly procedure: string; readonly direction: 'in' | 'out' | null };
type ChartState = ProcedureFile['states'][string];
type Branch = { when?: readonly Condition[] | undefined; to?: string | undefined; exit?: string | undefined };
type Condition = NonNullable<
  NonNullable<Extract<ChartState, { kind: 'route' }>['go'][number]['when']>
>[number];

/**
 * The steps of a treatment, for this fault, with everything that has to be read or said before the first of them; null
 * where the charts lead this person to the bench instead.
 */
export function procedureOnPaper(book: RunBook, opening: Opening, treat: Treat): PaperSteps | null {
  const chart = book.content.flow.charts.procedures.find(({ procedure }) => procedure === treat.procedure);
  if (chart === undefined) throw new RangeError(`there is no procedure "${treat.procedure}"`);
  const entered = enter(book, opening, treat);
  if (entered === null) return null;
  const { announced, inside } = entered;
  const names = reachable(chart);
  const isTurn = (name: string) => {
    const page = chart.states[name]!;
    return 'role' in page && page.role === 'turn';
  };
  // One row of boxes for all that is turned: a second row would be read as a second allowance.
  const firstTurn = names.find(isTurn);
  const pages = announced.map((state) => stepInWords(book, state));
  const cautions = new Set(
    pages.flatMap(({ step, fill }) => step.cautions.map(({ brief }) => sentence(fill(brief)))),
  );
  return {
    text: paragraphs(pages[0]!.fill(pages[0]!.step.ask)),
    cautions: [...cautions],
    adjusts: chart.adjusts,
    words: [
      ...(chart.adjusts ? ['The owner has said that it may be adjusted here.'] : []),
      ...pages.slice(1).map(({ step, fill }) => `${fill(step.title)}. ${paragraphs(fill(step.ask)).at(-1)}`),
    ],
    steps: names.map((name, index) => {
      const at = `${inside.flow.at.slice(0, inside.flow.at.lastIndexOf('.'))}.${name}`;
      const { step, fill } = stepInWords(book, { ...inside, flow: { ...inside.flow, at } });
      return {
        number: index + 1,
        ask: fill(step.onPaper).replace(/\n\n/g, ' '),
        ways: waysOf(chart, name, names, inside.flow).map((way) => ({ ...way, label: fill(way.label) })),
        boxes:
          name === firstTurn && chart.turns !== undefined ? (chart.memory.counters[chart.turns]?.to ?? 0) : 0,
      };
    }),
  };
}

/** Walks the charts from the verdict to the first step, by the first answer of every page between. */
function enter(
  book: RunBook,
  opening: Opening,
  treat: Treat,
): { announced: RunState[]; inside: RunState } | null {
  const { flow } = book.content;
  const begun = book.begin(opening);
  const weigh = Object.entries(flow.charts.main.states).find(
    ([, state]) => state.kind === 'weigh' && state.group === 'all',
  )![0];
  const context = {
    ...begun.flow.context,
    confirmed: [treat.fault],
    flags: { ...begun.flow.context.flags, ownerAllows: true, playTestDue: false },
  };
  let state: FlowState = taken(
    flow,
    { at: weigh, context },
    {
      type: 'verdict',
      verdict: 'treat',
      fault: treat.fault,
      procedure: treat.procedure,
      ...(treat.direction === null ? {} : { direction: treat.direction }),
    },
  );
  const announced: RunState[] = [];
  const asRun = (now: FlowState): RunState => ({
    ...begun,
    flow: now,
    focus: { check: null, fault: treat.fault },
  });
  while (!state.at.includes('.')) {
    const first = flow.step(state).choices[0];
    if (first === undefined) return null;
    announced.push(asRun(state));
    state = taken(flow, state, { type: 'choice', choice: first.id });
  }
  return { announced, inside: asRun(state) };
}

function taken(flow: Flow, state: FlowState, event: Parameters<Flow['take']>[1]): FlowState {
  const next = flow.take(state, event);
  if ('refused' in next) throw new RangeError(next.refused);
  return next.state;
}

/** The pages of a chart that can be come to, in the chart's order. */
function reachable(chart: ProcedureFile): string[] {
  const seen = new Set([chart.starts]);
  for (const name of seen) {
    const state = chart.states[name]!;
    if (!('choices' in state)) continue;
    for (const choice of state.choices)
      for (const { to } of choice.go ?? [choice]) if (to !== undefined) seen.add(to);
  }
  return Object.keys(chart.states).filter((name) => seen.has(name));
}

function waysOf(
  chart: ProcedureFile,
  name: string,
  names: readonly string[],
  { context }: FlowState,
): PaperWay[] {
  const state = chart.states[name]!;
  if (!('choices' in state)) return [];
  const own = names.indexOf(name) + 1;
  return state.choices.flatMap(({ label, when, go, ...only }) => {
    const branches = (go ?? [only]).flatMap((branch: Branch): PaperWay[] => {
      const conditions = [...(when ?? []), ...(branch.when ?? [])];
      if (conditions.some((condition) => isOtherPerson(condition, context.person))) return [];
      const told = conditions.map((condition) => sayCondition(chart, condition)).filter(Boolean);
      // Counts before exceptions: “with 6 ticks or more, unless …”.
      told.sort((one, other) => Number(one.startsWith('unless')) - Number(other.startsWith('unless')));
      return [{ label, when: told.join(', '), ...targetOf(chart, names, own, branch) }];
    });
    return withoutNeedless(branches);
  });
}

/** Conditions that only lead where one goes without them need not be read. */
function withoutNeedless(branches: readonly PaperWay[]): PaperWay[] {
  const otherwise = branches.at(-1);
  const last = branches.findLastIndex(({ words }) => words !== otherwise?.words);
  return otherwise === undefined ? [] : [...branches.slice(0, last + 1), otherwise];
}

function targetOf(
  chart: ProcedureFile,
  names: readonly string[],
  from: number,
  { to, exit }: Branch,
): Omit<PaperWay, 'label' | 'when'> {
  if (to !== undefined) {
    const number = names.indexOf(to) + 1;
    return { to: 'step', number, words: number === from + 1 ? 'go on' : letterOf(number) };
  }
  switch (chart.exits[exit!]?.leaves) {
    case 'adjusted':
      return { to: 'retest', number: null, words: 'play again' };
    case 'counted':
      return { to: 'bench', number: null, words: 'to the bench, with the ticks' };
    default:
      return { to: 'bench', number: null, words: 'to the bench' };
  }
}

function isOtherPerson(condition: Condition, person: string): boolean {
  return 'person' in condition && condition.person !== undefined
    ? ![condition.person].flat().includes(person as never)
    : false;
}

function sayCondition(chart: ProcedureFile, condition: Condition): string {
  if ('flag' in condition && condition.flag !== undefined) {
    const means = chart.memory.flags[condition.flag]?.means;
    return means === undefined ? '' : `${condition.is === true ? 'if' : 'unless'} ${means}`;
  }
  if (!('counter' in condition) || condition.counter === undefined) return '';
  const { counter, atLeast, atMost } = condition;
  const { means, to } = chart.memory.counters[counter]!;
  // Each box stands for an eighth of a turn.
  if (counter === chart.turns)
    return atLeast === undefined
      ? `${sayCount(atMost!, 'fewer', to)} ticked`
      : `${sayCount(atLeast, 'more', to)} ticked`;
  const count = atLeast === undefined ? sayCount(atMost!, 'fewer', to) : sayCount(atLeast, 'more', to);
  return `${means}: ${count}`;
}

function sayCount(count: number, side: 'more' | 'fewer', all: number): string {
  if (count === 0) return 'none';
  return count === all ? `all ${count}` : `${count} or ${side}`;
}

/** A brief caution as a sentence. */
export function sentence(brief: string): string {
  return `${brief.charAt(0).toUpperCase()}${brief.slice(1)}${/[.!?]$/.test(brief) ? '' : '.'}`;
}

function paragraphs(text: string): string[] {
  return text.split(/\n\s*\n/).map((part) => part.trim());
}
