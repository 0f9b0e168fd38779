/** What each page's template is given. Every field is always there, because templates fail on a missing one. */
import type { OutcomeView, PictureView, WaveringView, WrittenNoteView } from '../../runs/view.ts';
import type { InstrumentModel } from './instrument-models.ts';
import type { InstrumentsModel } from './instrument-pages.ts';
import type { PaperComplaintModel, PaperModel, PaperSheetModel } from './paper-models.ts';
import type { WhyModel } from './why-models.ts';

export type OptionModel = { id: string; label: string; line: string | null; isChosen: boolean };

/** One family of the choice of instruments; `path` shows the page with it open. */
export type FamilyModel = {
  id: string;
  name: string;
  lookFor: string;
  picture: string;
  path: string;
  isOpen: boolean;
  instruments: (OptionModel & { picture: string })[];
};

export type StartModel = {
  families: FamilyModel[];
  persons: OptionModel[];
  tools: OptionModel[];
  complaint: string;
  code: string;
  key: string;
  problems: { anchor: string; text: string }[];
  examplePath: string;
  instrumentsPath: string;
  paperPath: string;
  /** Nothing has been sent yet, so the browser may choose what was chosen last. */
  isUntouched: boolean;
  fieldProblem: {
    instrument: string | null;
    person: string | null;
    tools: string | null;
    complaint: string | null;
    code: string | null;
  };
};

export type TurnModel = { asked: string; answered: string; changePath: string | null };

/** Says above a step why it is shown instead of what was expected. */
export type NoticeModel = { title: string; sentences: string[] };

/** Where one is in the example run, what was answered here, and the ways on and back. */
export type ExampleModel = {
  page: number;
  pages: number;
  invented: string;
  answered: string | null;
  previousPath: string | null;
  nextPath: string | null;
};

/** What surrounds every step of a run: where one is, what was said before, how to come back. */
export type FrameModel = {
  instrumentName: string;
  instrumentPath: string;
  personLabel: string;
  code: string;
  runPath: string;
  shortLink: string;
  undoPath: string;
  whyPath: string;
  helpPath: string;
  handOverPath: string;
  revision: number;
  key: string;
  /** What is ruled out and what is left, in one breath; empty when there is nothing to say. */
  progress: string;
  lastTurn: TurnModel | null;
  earlierTurns: TurnModel[];
  earlierCount: string;
  notice: NoticeModel | null;
  /** Only on the pages of the example run. */
  example: ExampleModel | null;
};

export type ChoiceModel = { id: string; label: string };

/** Where a form's answers go and what it carries besides the answer. */
export type FormModel = {
  actionPath: string;
  revision: number;
  key: string;
  /** What the page asks: said again if the answer turns out to be late. */
  asked: string;
  entry: number | null;
};

/** The complaint as it was said, what it was taken to mean, and the answer that sends the ticks. */
/** The complaint as it was written, and what was not made anything of. */
export type ReadingModel = {
  whoSaid: string;
  said: { text: string; isMissed: boolean }[];
  /** Said at once where nothing of it is to be confirmed; else empty. */
  opening: string;
  /** What to say of it; none where everything was taken up. */
  sentences: string[];
};

export type ProposalsModel = {
  likely: ProposalModel[];
  perhaps: ProposalModel[];
  sentBy: string;
};

type ProposalModel = { id: string; says: string; isTicked: boolean };

/** As the run shows it, with what the browser needs to listen. */
export type WaveringModel = WaveringView & { nextRegister: number; isUntouched: boolean };

export type StepModel = {
  frame: FrameModel;
  title: string;
  ask: string[];
  /** So long that it is set smaller on a phone, or no answer would stand on the first screen. */
  isLongAsk: boolean;
  why: string;
  cautions: string[];
  /** Cautions shown before: in a few words together, and each in full. */
  reminders: { brief: string; texts: string[] } | null;
  picture: PictureView | null;
  written: WrittenNoteView | null;
  wavering: WaveringModel | null;
  form: FormModel;
  choices: ChoiceModel[];
  quietChoices: ChoiceModel[];
  helpPath: string;
  reading: ReadingModel | null;
  proposals: ProposalsModel | null;
  /** What is asked is for somebody on the telephone to do. */
  isForCaller: boolean;
};

/** The step of now in plain words. */
export type HelpModel = {
  runPath: string;
  title: string;
  isForCaller: boolean;
  plainly: string[];
  why: string;
  cautions: string[];
  picture: PictureView | null;
  terms: { word: string; means: string }[];
  form: FormModel;
  /** What may be done instead of what is asked; leads on, or to a safe end. */
  instead: ChoiceModel[];
};

/** What somebody needs who takes a run over. */
export type HandOverModel = {
  runPath: string;
  groups: { letters: string; spelled: string }[];
  /** Null where the browser has named no host to make a link of. */
  link: string | null;
  qr: string | null;
  isLoopback: boolean;
  standing: string[];
};

export type NoteRowModel = WrittenNoteView & {
  anchor: string;
  words: string;
  picture: PictureView;
  answers: { value: string; label: string; isChosen: boolean }[];
  couldNotTell: { value: string; label: string; isChosen: boolean };
  isAnswered: boolean;
  answerText: string;
  /** What the browser listens for, besides the tone; null where it is not offered. */
  listen: { fingering: string; nextRegister: number } | null;
  /** Offered only after "wrong note": which one came out. */
  heard: {
    selectId: string;
    selectName: string;
    value: string;
    options: { value: string; label: string; isChosen: boolean }[];
  } | null;
};

export type NotesModel = StepModel & {
  firstTitle: string;
  first: NoteRowModel[];
  further: NoteRowModel[];
  isFurtherOpen: boolean;
  furtherCount: string;
  order: string;
  hasEnough: boolean;
  count: string;
};

export type OutcomeModel = {
  frame: FrameModel;
  outcome: OutcomeView;
  meanwhileTitle: string;
  cardPath: string;
  ticketPath: string | null;
  quietChoices: ChoiceModel[];
  form: FormModel;
};

export type ChangeModel = {
  reading: ReadingModel | null;
  proposals: ProposalsModel | null;
  runPath: string;
  title: string;
  ask: string[];
  answered: string;
  picture: PictureView | null;
  written: WrittenNoteView | null;
  form: FormModel;
  choices: ChoiceModel[];
  quietChoices: ChoiceModel[];
  /** Null: the page of plain words is about the step of now. */
  helpPath: null;
  rows: NoteRowModel[];
};

export type CardModel = {
  runPath: string;
  code: string;
  instrumentName: string;
  opened: string;
  outcome: OutcomeView;
  meanwhileTitle: string;
};

export type TicketModel = {
  runPath: string;
  title: string;
  lead: string;
  ticket: NonNullable<OutcomeView['ticket']>;
  /** The notes played, those that answered alike together. */
  noteGroups: { answered: string; notes: { note: string; name: string }[] }[];
  findings: { what: string; seen: string }[];
  done: string[];
  cautions: string[];
  escalation: string;
};

export type ProblemModel = {
  title: string;
  status: number;
  detail: string;
  fields: { name: string; detail: string }[];
  explainPath: string;
  returnPath: string | null;
  requestId: string | null;
  asksForCode: boolean;
};

export type PageModels = {
  start: StartModel;
  step: StepModel;
  help: HelpModel;
  'hand-over': HandOverModel;
  notes: NotesModel;
  outcome: OutcomeModel;
  change: ChangeModel;
  card: CardModel;
  paper: PaperModel;
  'paper-complaint': PaperComplaintModel;
  'paper-sheet': PaperSheetModel;
  ticket: TicketModel;
  why: WhyModel;
  instruments: InstrumentsModel;
  instrument: InstrumentModel;
  problem: ProblemModel;
  'problem-list': {
    problems: { code: string; title: string; status: number; meaning: string; path: string }[];
  };
  'problem-entry': { code: string; title: string; status: number; meaning: string };
  api: {
    documentPath: string;
    operations: { method: string; path: string; summary: string; description: string }[];
  };
};
