/** What the templates of the paper version are given. */
import type { PaperSheet } from '../paper-sheet.ts';
import type { OptionModel } from './models.ts';

export type PaperModel = {
  formPath: string;
  /** Until somebody has chosen, the list shows none of them. */
  isInstrumentChosen: boolean;
  families: { name: string; instruments: OptionModel[] }[];
  persons: OptionModel[];
  tools: OptionModel[];
  problem: string | null;
};

export type PaperComplaintModel = {
  sheetPath: string;
  backPath: string;
  instrumentName: string;
  personLabel: string;
  /** What was chosen on the page before. */
  hidden: { name: string; value: string }[];
  complaints: { value: string; label: string; line: string }[];
  code: string;
  problem: string | null;
};

export type PaperSheetModel = {
  backPath: string;
  /** How large the words are set: as large as two pages allow. */
  typeClass: string;
  sheet: PaperSheet;
  personLabel: string;
  toolLabels: string;
  before: (PaperSheet['before'][number] & { letter: string })[];
  endings: (Omit<PaperSheet['endings'][number], 'steps'> & {
    steps: {
      letter: string;
      ask: string;
      boxes: number[];
      /** The answers, each with its one way or its ways by condition; empty where one only goes on. */
      answers: { label: string; oneWay: string; ways: { when: string; words: string }[] }[];
    }[];
  })[];
  /** The first letters of the edition: enough to tell sheets apart. */
  edition: string;
};
