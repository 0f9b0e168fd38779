/** From what a run shows to what its pages are given. */
import type { NoteRowView, OutcomeView, RunView, StepView } from '../../runs/view.ts';
import type { Library, NoteOption } from '../library.ts';
import {
  answersPath,
  cardPath,
  changePath,
  handOverPath,
  helpPath,
  instrumentPath,
  noteAnchor,
  runPath,
  ticketPath,
  undoPath,
  whyPath,
} from '../paths.ts';
import type {
  ChoiceModel,
  ExampleModel,
  FormModel,
  FrameModel,
  NoteRowModel,
  NotesModel,
  NoticeModel,
  OutcomeModel,
  ProposalsModel,
  ReadingModel,
  StepModel,
  TurnModel,
} from './models.ts';

const answerLabels = [
  ['speaks', 'Speaks'],
  ['unsteady', 'Unsteady'],
  ['wrong', 'Wrong note'],
  ['silent', 'Silent'],
] as const;
const couldNotTellLabel = 'Could not tell';

/** Letters of what is asked from which on it is long; about six lines on a phone. */
const longAsk = 150;

/** Where the page is seen: what to call the people in it, and the address under which the server is known. */
export type Surroundings = { readonly library: Library; readonly host: string };

/**
 * What surrounds a step.
 * @param run the run as it stands
 * @param surroundings names and address
 * @param notice why this step is shown instead of what was expected, or null
 */
export function toFrame(run: RunView, surroundings: Surroundings, notice: NoticeModel | null): FrameModel {
  const turns = run.conversation.map(
    (turn): TurnModel => ({
      asked: turn.asked,
      answered: turn.answered,
      changePath: turn.canChange ? changePath(run.id, turn.entry) : null,
    }),
  );
  // Newest first, as the page is read: from the step of now back to the beginning.
  const earlierTurns = turns.slice(0, -1).reverse();
  return {
    instrumentName: run.instrument.name,
    instrumentPath: instrumentPath(run.instrument.id),
    personLabel: surroundings.library.persons.find(({ id }) => id === run.person)?.label ?? run.person,
    code: run.id,
    runPath: runPath(run.id),
    shortLink: `${surroundings.host}${runPath(run.id)}`,
    undoPath: undoPath(run.id),
    whyPath: whyPath(run.id),
    helpPath: helpPath(run.id),
    handOverPath: handOverPath(run.id),
    revision: run.revision,
    key: `undo-at-${run.revision}`,
    progress: [run.progress.ruledOut, run.progress.ahead].filter(Boolean).join(' '),
    lastTurn: turns.at(-1) ?? null,
    earlierTurns,
    earlierCount: earlierTurns.length === 1 ? '1 earlier answer' : `${earlierTurns.length} earlier answers`,
    notice,
    example: toExample(run),
  };
}

function toExample({ example }: RunView): ExampleModel | null {
  if (example === null) return null;
  const { previous, next, ...shown } = example;
  return {
    ...shown,
    previousPath: previous === null ? null : runPath(previous),
    nextPath: next === null ? null : runPath(next),
  };
}

/** The form under the current step of a run. */
export function toForm(run: RunView): FormModel {
  return {
    actionPath: answersPath(run.id),
    revision: run.revision,
    // The same answer to the same step is the same wish, however often and from whichever page it comes.
    key: `answer-at-${run.revision}`,
    asked: run.step.title,
    entry: null,
  };
}

/** Splits a step's choices into answers and ways out. */
export function splitChoices(step: StepView): { choices: ChoiceModel[]; quietChoices: ChoiceModel[] } {
  const pick = (tone: 'plain' | 'quiet') =>
    step.choices.filter((choice) => choice.tone === tone).map(({ id, label }) => ({ id, label }));
  return { choices: pick('plain'), quietChoices: pick('quiet') };
}

/** Paragraphs of a text that parts them by blank lines. */
export function toParagraphs(text: string): string[] {
  return text
    .split(/\n\s*\n/)
    .map((paragraph) => paragraph.trim())
    .filter((paragraph) => paragraph !== '');
}

/** A question, an instruction or a check. */
export function toStepModel(run: RunView, frame: FrameModel): StepModel {
  const { step } = run;
  return {
    frame,
    title: step.title,
    ask: toParagraphs(step.ask),
    isLongAsk: step.ask.length > longAsk,
    why: step.why,
    cautions: step.cautions,
    reminders: toReminders(step),
    picture: step.picture,
    written: step.written,
    wavering: toWavering(run),
    form: toForm(run),
    ...splitChoices(step),
    helpPath: frame.helpPath,
    reading: toReading(run, step),
    proposals: toProposals(step),
    isForCaller: run.person === 'desk' && step.kind === 'check',
  };
}

function toReminders({ reminders }: StepView): StepModel['reminders'] {
  if (reminders.length === 0) return null;
  return { brief: reminders.map(({ brief }) => brief).join('; '), texts: reminders.map(({ text }) => text) };
}

/** What was made of the words of a complaint; null where the step does not tell it. */
export function toReading(
  { person }: Pick<RunView, 'person'>,
  { reading, proposals }: StepView,
): ReadingModel | null {
  if (reading === null) return null;
  const isForDesk = person === 'desk';
  const { words, known, missed } = reading;
  const isEmpty = proposals.length === 0;
  const left = [
    ...(missed.length === 0 ? [] : [`I did not understand: ${sayWords(missed)}.`]),
    ...(known.length === 0
      ? []
      : [`Understood, but by itself it does not say where to look: ${sayWords(known)}.`]),
  ];
  const kept = `${isForDesk ? 'The caller’s' : 'Your'} own words stay as they are, and go on the ticket.`;
  return {
    whoSaid: isForDesk ? 'The caller said:' : 'You wrote:',
    said: words.map(({ text, is }) => ({ text, isMissed: is === 'missed' })),
    opening: isEmpty
      ? `I could not tell from ${isForDesk ? 'the caller’s' : 'your'} words where to look, so I ask one thing at a time.`
      : '',
    sentences: [...left, ...(isEmpty || left.length > 0 ? [kept] : [])],
  };
}

const sayWords = (words: readonly string[]): string => words.map((word) => `“${word}”`).join(', ');

/** What a complaint was taken to mean, the other readings apart; null where a step asks for something else. */
export function toProposals({ proposals, choices }: StepView): ProposalsModel | null {
  if (proposals.length === 0) return null;
  const pick = (isWanted: boolean) =>
    proposals
      .filter(({ isLikely }) => isLikely === isWanted)
      .map(({ id, says, isTicked }) => ({ id, says, isTicked }));
  return {
    likely: pick(true),
    perhaps: pick(false),
    sentBy: choices[0]?.id ?? '',
  };
}

/** Each run's trials are its own, so that a browser never draws those of another. */
function toWavering({
  id,
  instrument: { nextRegister },
  step: { wavering },
}: RunView): StepModel['wavering'] {
  if (wavering === null) return null;
  return { ...wavering, trial: `${id} ${wavering.trial}`, nextRegister, isUntouched: wavering.turned === 0 };
}

/** The play test. */
export function toNotesModel(run: RunView, frame: FrameModel, library: Library): NotesModel {
  const rows = run.step.notes;
  const { id, nextRegister } = run.instrument;
  const toModel = (row: NoteRowView) => ({
    ...toNoteRow(row, library.notesNear(id, row.note)),
    listen: { fingering: row.fingering, nextRegister },
  });
  const first = rows.filter(({ group }) => group === 'first');
  const further = rows.filter(({ group }) => group === 'then');
  const isAnswered = (row: NoteRowView) => row.answered !== null;
  const listOrder = (group: readonly NoteRowView[]) =>
    group.map((row) => `${row.fingering}${isAnswered(row) ? '*' : ''}`).join(' ');
  const answered = first.filter(isAnswered).length;
  return {
    ...toStepModel(run, frame),
    firstTitle: further.length === 0 ? 'Play these' : 'Play these first',
    first: first.map(toModel),
    further: further.map(toModel),
    isFurtherOpen: further.some(isAnswered),
    furtherCount: further.length === 1 ? '1 note' : `${further.length} notes`,
    order: `${listOrder(first)};${listOrder(further)}`,
    hasEnough: answered === first.length,
    count: first.length === 0 ? 'No note to play here' : `${answered} of ${first.length} played`,
  };
}

/** One note of the play test; what may have come out is offered only where the answer was "wrong note". */
export function toNoteRow(row: NoteRowView, near: readonly NoteOption[]): NoteRowModel {
  const value = (answered: string) => `${row.fingering} ${answered}`;
  const chosen = answerLabels.find(([answered]) => answered === row.answered)?.[1];
  return {
    anchor: noteAnchor(row.fingering),
    note: row.note,
    name: row.name,
    staff: row.staff,
    tone: row.tone,
    words: row.words,
    picture: row.picture,
    answers: answerLabels.map(([answered, label]) => ({
      value: value(answered),
      label,
      isChosen: row.answered === answered,
    })),
    couldNotTell: {
      value: value('could-not-tell'),
      label: couldNotTellLabel,
      isChosen: row.answered === 'could-not-tell',
    },
    isAnswered: row.answered !== null,
    answerText: chosen ?? (row.answered === null ? 'Not played yet' : couldNotTellLabel),
    listen: null,
    heard: row.answered === 'wrong' && near.length > 0 ? toHeard(row, near) : null,
  };
}

/** The outcome of a run. */
export function toOutcomeModel(run: RunView, frame: FrameModel): OutcomeModel {
  const { outcome } = run.step;
  if (outcome === null) throw new Error('The step is an outcome and carries none.');
  return {
    frame,
    outcome,
    meanwhileTitle: meanwhileTitle(outcome),
    cardPath: cardPath(run.id),
    ticketPath: outcome.ticket === null ? null : ticketPath(run.id),
    quietChoices: [...splitChoices(run.step).choices, ...splitChoices(run.step).quietChoices],
    form: toForm(run),
  };
}

/** What stands over the advice for the time being: with a ticket the instrument still waits to be mended. */
export function meanwhileTitle({ ticket }: OutcomeView): string {
  return ticket === null ? 'What to do now' : 'Until it is mended';
}

/** The notes near, and the one that was told if it is none of them: “Keep” keeps what is chosen here. */
function withSounded({ sounded }: NoteRowView, near: readonly NoteOption[]): readonly NoteOption[] {
  const isThere = sounded === null || near.some(({ note }) => note === sounded);
  return isThere ? near : [{ note: sounded, name: sounded }, ...near];
}

function toHeard(row: NoteRowView, near: readonly NoteOption[]): NonNullable<NoteRowModel['heard']> {
  const anchor = noteAnchor(row.fingering);
  return {
    selectId: `heard-${anchor}`,
    selectName: `sounded ${row.fingering}`,
    value: `${row.fingering} wrong heard`,
    options: withSounded(row, near).map(({ note, name }) => ({
      value: note,
      label: name,
      isChosen: note === row.sounded,
    })),
  };
}
