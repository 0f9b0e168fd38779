/** What the page "Why?" is given: notes that tell the same stand together, so that the pattern is short enough to see. */
import type { WhyChange, WhyCheck, WhyPrediction, WhySuspect, WhyView } from '../../runs/why-schema.ts';
import { instrumentPath, runPath } from '../paths.ts';
import { type ColumnModel, toColumns } from './why-columns.ts';

type BarModel = { width: string; words: string };

type CellModel = { words: string; fit: string; fitWords: string; hasFit: boolean };

export type WhyModel = {
  runPath: string;
  instrumentPath: string;
  instrumentName: string;
  code: string;
  sentences: string[];
  isBeforeTreatment: boolean;
  /** What lies between "before" and "now", in one sentence. */
  lastSentence: string;
  hasBefore: boolean;
  suspects: {
    title: string;
    before: BarModel | null;
    now: BarModel;
    change: { sign: string; words: string } | null;
    /** What has changed shows both bars, what has not shows one. */
    isChanged: boolean;
    isSame: boolean;
  }[];
  hasNotes: boolean;
  /** More columns than a phone shows at once. */
  isWide: boolean;
  /** From low to high; else notes that tell the same stand together, wherever they lie. */
  isInOrder: boolean;
  pattern: {
    span: number;
    columns: ColumnModel[];
    suspects: { title: string; tally: string; cells: CellModel[] }[];
  };
  checks: {
    title: string;
    isAskedNow: boolean;
    duration: string;
    tells: string;
    /** Further checks that tell the same. */
    others: { title: string; duration: string }[];
    answers: { label: string; leads: string; words: string }[];
  }[];
};

/** So many columns fit side by side on a phone. */
const onOnePhone = 2;

/** The model of the page. */
export function toWhyModel(why: WhyView): WhyModel {
  const { columns, isInOrder } = toColumns(why.pattern);
  return {
    runPath: runPath(why.id),
    instrumentPath: instrumentPath(why.instrument.id),
    instrumentName: why.instrument.name,
    code: why.id,
    sentences: why.sentences,
    isBeforeTreatment: why.moment === 'before-treatment',
    lastSentence: sayLast(why),
    hasBefore: why.last !== null,
    suspects: why.suspects.map(toSuspect),
    hasNotes: why.pattern.notes.length > 0,
    isWide: columns.length > onOnePhone,
    isInOrder,
    pattern: {
      span: columns.length + 1,
      columns,
      suspects: why.pattern.suspects.map(({ title, agrees, heard, predictions }) => ({
        title,
        tally: heard === 0 ? 'nothing was heard to hold against it' : `agrees with ${agrees} of ${heard}`,
        cells: columns.map(({ place }) => toCell(predictions[place])),
      })),
    },
    checks: [...Map.groupBy(why.checks, ({ tells }) => tells).values()].flatMap(([first, ...others]) =>
      first === undefined ? [] : [{ ...toCheck(first, leadOf(why)), others: others.map(toOther) }],
    ),
  };
}

/** The title of what is likeliest now; "everything else" is no one thing. */
function leadOf({ suspects }: WhyView): string | undefined {
  return suspects
    .filter(({ kind }) => kind !== 'everything-else')
    .toSorted((one, other) => other.now.probability - one.now.probability)[0]?.title;
}

function sayLast({ last }: WhyView): string {
  if (last === null) return 'Nothing has been answered yet that would change these.';
  const { kind, asked, answered } = last;
  if (kind === 'treatment') return `Before and after the treatment of this part: ${asked}.`;
  if (kind === 'notes') return `Before and after ${asked}: ${answered}.`;
  return `Before and after your last answer: “${asked}”: ${answered}.`;
}

const changes: Readonly<Record<WhyChange, { sign: string; words: string }>> = {
  rose: { sign: '+', words: 'rose' },
  'rose-a-little': { sign: '+', words: 'rose a little' },
  same: { sign: '=', words: 'as before' },
  'fell-a-little': { sign: '−', words: 'fell a little' },
  fell: { sign: '−', words: 'fell' },
};

function toSuspect({ title, before, now, change }: WhySuspect): WhyModel['suspects'][number] {
  return {
    title,
    before: before === null ? null : toBar(before),
    now: toBar(now),
    change: change === null ? null : changes[change],
    isChanged: change !== null && change !== 'same',
    isSame: change === 'same',
  };
}

/** A bar is drawn on 100 units; the least one is still to be seen. */
function toBar({ probability, words }: WhySuspect['now']): BarModel {
  return { width: Math.max(0.5, probability * 100).toFixed(1), words };
}

const fitWords = { agrees: 'agrees', disagrees: 'disagrees', 'not-heard': '' } as const;

function toCell(prediction: WhyPrediction | undefined): CellModel {
  if (prediction === undefined) throw new RangeError('a suspect says nothing about a note');
  const { words, fits } = prediction;
  return { words, fit: fits, fitWords: fitWords[fits], hasFit: fits !== 'not-heard' };
}

const toOther = ({ title, duration }: WhyCheck) => ({ title, duration });

/** Answers that lead to the same stand in one row. @param lead what is likeliest now */
function toCheck(
  { title, isAskedNow, duration, tells, answers }: WhyCheck,
  lead: string | undefined,
): Omit<WhyModel['checks'][number], 'others'> {
  const alike = Map.groupBy(answers, ({ leads, words }) => JSON.stringify([leads, words]));
  return {
    title,
    isAskedNow,
    duration,
    tells,
    answers: [...alike.values()].flatMap((group) => {
      const [first] = group;
      if (first === undefined) return [];
      const label =
        group.length === answers.length ? 'Any answer' : group.map((answer) => answer.label).join(' / ');
      return [{ label, leads: first.leads === lead ? 'the same as now' : first.leads, words: first.words }];
    }),
  };
}
