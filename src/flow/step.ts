/** What a state shows: its texts for this person and moment, with the blanks filled that the flow itself can fill. */
import { type Chart, choicesOf } from './charts.ts';
import { type FlowContext, holds, type ProcedureTable } from './context.ts';
import type { Caution, Outcome } from './ending-schema.ts';
import { directionInWords, fillTemplate, type Placeholder, turnsInWords } from './placeholders.ts';
import type { PageState, Picture, State } from './schema.ts';

/** Where a run is and what it remembers: plain JSON. `at` is the dotted path of the state. */
export type FlowState = { readonly at: string; readonly context: FlowContext };

/** A caution as a page shows it, and in a few words for a page that shows it again. */
export type ShownCaution = { readonly id: string; readonly text: string; readonly brief: string };

/** What a page says. Texts are templates in which only the placeholders that the flow knows have been filled. */
export type FlowStep = {
  readonly id: string;
  readonly kind: 'question' | 'instruction' | 'proposals' | 'notes' | 'check' | 'weigh' | 'outcome';
  readonly title: string;
  readonly ask: string;
  readonly why: string;
  /** What is asked, said more plainly; empty where there is no such text. */
  readonly plainly: string;
  /** What is asked on paper, where nothing is counted for the reader. */
  readonly onPaper: string;
  readonly cautions: readonly ShownCaution[];
  /** The cautions of the instrument's family belong here as well. */
  readonly announcesFamily: boolean;
  readonly picture: Picture;
  /** What is turned at this step, in eighths of a turn: back where it is negative, null where nothing is turned. */
  readonly turnsNow: number | null;
  /** The answer that stands where nothing could be adjusted anyhow, so that nobody is asked; null where all are asked. */
  readonly withoutAdjusting: string | null;
  /** What the step is in an adjusting loop; null elsewhere. */
  readonly role: NonNullable<PageState['role']> | null;
  readonly choices: readonly {
    readonly id: string;
    readonly label: string;
    readonly tone: 'plain' | 'quiet';
  }[];
  /** check: which checks; notes: play-test or retest; weigh: the whole, or the set-up alone. */
  readonly group?: 'set-up' | 'isolate' | 'confirm' | 'play-test' | 'retest' | 'all';
  readonly outcome?: FlowOutcome;
};

/** How a run ended: the outcome's own texts, its cautions in words, the urgency settled. */
export type FlowOutcome = Pick<
  Outcome,
  'id' | 'title' | 'lead' | 'untilMended' | 'escalation' | 'recheck' | 'ticket' | 'job'
> & { readonly cautions: readonly string[]; readonly urgency: string };

/** What describing a step draws on. */
export type Library = {
  readonly procedures: ProcedureTable;
  readonly outcomes: ReadonlyMap<string, Outcome>;
  readonly cautions: ReadonlyMap<string, Caution>;
};

/** Where a state stands: its chart and what the chart says of it. */
export type Place = { readonly chart: Chart; readonly state: State };

/**
 * The step of a state.
 *
 * @param has whether there is a text for a placeholder; variants of texts may depend on it
 */
export function describeStep(
  { at, context }: FlowState,
  { chart, state }: Place,
  library: Library,
  has: (placeholder: string) => boolean,
): FlowStep {
  const nothing = {
    title: '',
    ask: '',
    why: '',
    plainly: '',
    onPaper: '',
    cautions: [],
    announcesFamily: false,
    picture: 'none',
    turnsNow: null,
    withoutAdjusting: null,
    role: null,
    choices: [],
  } as const;
  if (state.kind === 'weigh') return { id: at, kind: 'weigh', ...nothing, group: state.group };
  if (state.kind === 'outcome') {
    const outcome = describeOutcome(state.outcome, context, library, has);
    return { id: at, kind: 'outcome', ...nothing, title: outcome.title, outcome };
  }
  const page = state as PageState;
  const texts = chooseTexts(page, context, library, has);
  const fill = filler(context, library.procedures);
  const announced = page.announces ? (library.procedures.get(context.procedure ?? '')?.cautions ?? []) : [];
  return {
    id: at,
    kind: page.kind,
    title: fill(texts.title),
    ask: fill(texts.ask),
    why: fill(texts.why),
    plainly: fill(texts.plainly),
    onPaper: fill(page.onPaper ?? texts.ask),
    cautions: findCautions([...new Set([...texts.cautions, ...announced])], library),
    announcesFamily: page.announcesFamily,
    picture: texts.picture,
    turnsNow: turnsNowAt(page, chart, context),
    withoutAdjusting: page.withoutAdjusting ?? null,
    role: page.role ?? null,
    choices: choicesOf(chart, page)
      .filter((choice) => holds(choice.when, context, library))
      .map(({ id, label, tone }) => ({ id, label: fill(label), tone })),
    ...(page.kind === 'check' || page.kind === 'notes' ? { group: page.group } : {}),
  };
}

/** What the first answer that counts turns says has been turned by then, beyond what was turned before. */
function turnsNowAt(page: PageState, { procedure }: Chart, { counters }: FlowContext): number | null {
  const counter = procedure?.turns;
  if (counter === undefined) return null;
  for (const { count, set } of page.choices) {
    const [by, to] = [count?.[counter], set?.[counter]];
    if (by !== undefined) return by;
    if (typeof to === 'number') return to - (counters[counter] ?? 0);
  }
  return null;
}

function chooseTexts(
  page: PageState,
  context: FlowContext,
  { procedures }: Library,
  has: (placeholder: string) => boolean,
) {
  const variant = page.variants.find((candidate) => holds(candidate.when, context, { procedures, has }));
  return {
    title: variant?.title ?? page.title,
    ask: variant?.ask ?? page.ask,
    why: variant?.why ?? page.why,
    plainly: variant?.plainly ?? page.plainly ?? '',
    cautions: variant?.cautions ?? page.cautions,
    picture: variant?.picture ?? page.picture,
  };
}

function describeOutcome(
  id: string,
  context: FlowContext,
  library: Library,
  has: (placeholder: string) => boolean,
): FlowOutcome {
  const outcome = library.outcomes.get(id) as Outcome;
  const variant = outcome.variants.find((candidate) => holds(candidate.when, context, { ...library, has }));
  const fill = filler(context, library.procedures);
  return {
    id: outcome.id,
    title: fill(variant?.title ?? outcome.title),
    lead: fill(variant?.lead ?? outcome.lead),
    cautions: findCautions(outcome.cautions, library).map(({ text }) => text),
    untilMended: outcome.untilMended.map(fill),
    escalation: fill(outcome.escalation),
    recheck: outcome.recheck.map(fill),
    urgency: outcome.urgency === 'asked' ? (context.words.urgency ?? 'next-slot') : outcome.urgency,
    ticket: outcome.ticket,
    job: outcome.job,
  };
}

function findCautions(ids: readonly string[], { cautions }: Library): ShownCaution[] {
  return ids.map((id) => {
    const { text, brief = text } = cautions.get(id) as Caution;
    return { id, text, brief };
  });
}

/** Fills what the flow remembers. Outside a procedure, `turned` is what the last one turned. */
function filler(context: FlowContext, procedures: ProcedureTable): (text: string) => string {
  const chart = procedures.get(context.procedure ?? '');
  if (chart === undefined) return (text) => text;
  const { direction } = context;
  const limit = chart.turns === undefined ? 0 : (chart.memory.counters[chart.turns]?.to ?? 0);
  const counted = chart.turns === undefined ? undefined : context.counters[chart.turns];
  const values: Partial<Record<Placeholder, string>> = {
    tools: chart.tools.length === 0 ? 'nothing but your hands' : chart.tools.join('; '),
    turned: turnsInWords(counted ?? context.repairs.at(-1)?.turned ?? 0),
    limit: turnsInWords(limit),
    ...(direction === null
      ? {}
      : {
          direction: directionInWords(direction),
          oppositeDirection: directionInWords(direction === 'in' ? 'out' : 'in'),
        }),
  };
  // An aim is a text with blanks of its own.
  const all = { ...values, aim: fillTemplate(chart.aim, values) };
  return (text) => fillTemplate(text, all);
}
