/** What pages and API need of the content: instruments as plain data, diagnoses, and the words for people and tools. */
import { z } from 'zod';
import { Answered, ComplaintText, Person, type Tool } from '../runs/schema.ts';
import { SuspectView } from '../runs/view.ts';
import type { InstrumentDetail } from './instrument-schema.ts';
import type { PaperComplaint, PaperRequest, PaperSheet } from './paper-sheet.ts';

const Id = z.string().min(1).max(60);

export const InstrumentSummary = z.object({
  id: Id,
  name: z.string(),
  family: z.string(),
  familyName: z.string().describe('as it is shown, e.g. Saxophones'),
  lookFor: z
    .string()
    .nullable()
    .describe('what tells it from the others of its family; null where nothing is said'),
});

const NoteFinding = z.strictObject({
  note: z.string().min(1).max(8).describe('written pitch, e.g. C#4; Db4 is understood as well'),
  fingering: Id.optional().describe('only where it was not the standard one'),
  answered: Answered,
  sounded: z.string().min(1).max(8).optional().describe('the note that came out, when it was a wrong one'),
});

const CheckFinding = z.strictObject({
  check: Id,
  saw: Id.describe('one of the answers of the check, or could-not-tell'),
});

export const DiagnosisRequest = z.strictObject({
  instrument: Id,
  findings: z.array(z.union([NoteFinding, CheckFinding])).max(300),
  complaint: ComplaintText.optional().describe(
    'in anybody’s words; read into `proposals`, and without any effect on the suspects',
  ),
  person: Person.optional(),
});

export const DiagnosisView = z.object({
  suspects: z.array(SuspectView).describe('most probable first'),
  rest: z.number().describe('probability of everything not listed; with the suspects it sums to 1'),
  nextChecks: z.array(
    z.object({
      check: Id,
      title: z.string(),
      bits: z.number().describe('information to be expected'),
      cost: z.number().describe('effort, in seconds'),
    }),
  ),
  explanation: z.string().describe('the whole of it in sentences'),
  pattern: z.object({
    failed: z.array(z.string()),
    spoke: z.array(z.string()),
    shared: z.string().describe('what the failing notes have in common that the speaking ones lack'),
    against: z.array(z.object({ fault: z.string(), because: z.string() })),
  }),
  proposals: z
    .array(
      z.object({
        says: z.string().describe('what would be taken for true, as a sentence'),
        isLikely: z.boolean().describe('false: another reading of words that can mean several things'),
        findings: z
          .array(z.union([NoteFinding, CheckFinding]))
          .describe('send them as findings once somebody has confirmed the sentence'),
      }),
    )
    .describe('what the complaint may mean; none of it counts yet'),
  notUnderstood: z.array(z.string()).describe('words of the complaint that were not understood'),
});

export type InstrumentSummary = z.infer<typeof InstrumentSummary>;

/** One family in the choice of an instrument: how to know it, and its instruments, each with a small picture. */
export type FamilyChoice = {
  readonly id: string;
  readonly name: string;
  /** Empty where nothing is said. */
  readonly lookFor: string;
  readonly instruments: readonly (InstrumentSummary & { readonly picture: string })[];
};
export type DiagnosisRequest = z.infer<typeof DiagnosisRequest>;
export type DiagnosisView = z.infer<typeof DiagnosisView>;

/** One way to answer "who are you?": a label and one plain line under it. */
export type PersonOption = { readonly id: Person; readonly label: string; readonly line: string };

/** One thing that may be to hand: a label, and a plain line under it where the label does not say all. */
export type ToolOption = { readonly id: Tool; readonly label: string; readonly line?: string };

/** A note that may have come out instead of the one asked for, as a player says it. */
export type NoteOption = { readonly note: string; readonly name: string };

export interface Library {
  readonly persons: readonly PersonOption[];
  readonly tools: readonly ToolOption[];
  /** All instruments, in the order in which they are offered. */
  instruments(): readonly InstrumentSummary[];
  /** The same by family, with pictures. */
  families(): readonly FamilyChoice[];
  /** One instrument as plain data. Throws Problem `unknown-instrument` (extra: `known`). */
  instrument(id: string): InstrumentDetail;
  /**
   * What the findings say. Enharmonic spellings are understood.
   * Throws Problem `unknown-instrument`, `unknown-note`, `unknown-check`, `unknown-answer`, each with the JSON pointer
   * of the field and what is known (extra: `known`).
   */
  diagnose(request: DiagnosisRequest): DiagnosisView;
  /**
   * The notes that a player may have heard instead of this one: first the one of the next register, then near by from high to low.
   * Empty when nothing is known of the instrument or the note.
   */
  notesNear(instrument: string, note: string): readonly NoteOption[];
  /** The usual complaints of an instrument, the most frequent first. Throws Problem `unknown-instrument`. */
  complaints(instrument: string, person: Person): Promise<readonly PaperComplaint[]>;
  /**
   * The paper version of the flow for one complaint; takes a second or two when it is made for the first time.
   * Throws Problem `unknown-instrument`, `unknown-note`, and `too-busy` while too many others are waiting.
   */
  paperSheet(request: PaperRequest): Promise<PaperSheet>;
}
