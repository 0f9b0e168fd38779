/** What the page "Why?" is given: notes that tell the same stand together, so that the pattern is short enough to see. */
import type {
  WhyChange,
  WhyCheck,
  WhyNote,
  WhyPattern,
  WhyPrediction,
  WhySuspect,
  WhyView,
} from '../../runs/why-schema.ts';
import { instrumentPath, runPath } from '../paths.ts';

type BarModel = { width: string; words: string };

type CellModel = { words: string; fit: string; fitWords: string; hasFit: boolean };

type ColumnModel = { title: string; pitches: string; heard: string };

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
  const groups = groupNotes(why.pattern);
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
    isWide: groups.length > onOnePhone,
    pattern: {
      span: groups.length + 1,
      columns: groups.map((group) => toColumn(group.map((place) => noteAt(why.pattern, place)))),
      suspects: why.pattern.suspects.map(({ title, agrees, heard, predictions }) => ({
        title,
        tally: `agrees with ${agrees} of ${heard}`,
        cells: groups.map(([place = 0]) => toCell(predictions[place])),
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

/**
 * Notes beside each other of which the same was heard and the same is predicted stand in one column.
 *
 * @returns the places of the notes, column by column
 */
function groupNotes({ notes, suspects }: WhyPattern): number[][] {
  const keyOf = (note: WhyNote, place: number): string =>
    JSON.stringify([
      note.words,
      suspects.map(({ predictions }) => [predictions[place]?.words, predictions[place]?.fits]),
    ]);
  const groups: number[][] = [];
  let keyBefore = '';
  notes.forEach((note, place) => {
    const key = keyOf(note, place);
    if (key === keyBefore) groups.at(-1)?.push(place);
    else groups.push([place]);
    keyBefore = key;
  });
  return groups;
}

function noteAt({ notes }: WhyPattern, place: number): WhyNote {
  const note = notes[place];
  if (note === undefined) throw new RangeError(`there is no note at ${place}`);
  return note;
}

function toColumn(notes: readonly WhyNote[]): ColumnModel {
  const [first] = notes;
  const last = notes.at(-1);
  if (first === undefined || last === undefined) throw new RangeError('a column holds at least one note');
  if (first === last) return { title: first.name, pitches: first.note, heard: first.words };
  return {
    title: `${first.name} to ${last.name}`,
    pitches:
      notes.length === 2
        ? `${first.note} and ${last.note}`
        : `${first.note} to ${last.note}, ${notes.length} notes`,
    heard: first.words,
  };
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
