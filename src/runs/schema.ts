/** What may be asked of a run: the shapes that pages and API share, and the text of their errors. */
import { z } from 'zod';
import { ComplaintText, longestComplaint } from '../complaint/index.ts';
import { Answered, Person, Tool } from '../diagnosis/index.ts';

export const Key = z
  .string()
  .min(8, 'Give a key of at least 8 characters, new for each answer (a UUID will do).')
  .max(100, 'Give a key of at most 100 characters.');

/** What opens a run. */
export const Opening = z.strictObject({
  instrument: z.string().min(1).max(60),
  person: Person,
  tools: z.array(Tool).max(10).default([]),
  complaint: ComplaintText.optional(),
});

/** One note's result on the play-test page. */
export const NoteAnswer = z.strictObject({
  type: z.literal('note'),
  fingering: z.string().min(1).max(60),
  answered: Answered,
  sounded: z.string().min(1).max(8).optional(),
});

/** One tap on one of the answers of the current step (question, instruction, check; or `done` on the play-test page). */
export const ChoiceAnswer = z.strictObject({ type: z.literal('choice'), choice: z.string().min(1).max(60) });

/** What of the complaint was understood rightly: ids of the step's proposals. None is an answer too. */
export const ProposalsAnswer = z.strictObject({
  type: z.literal('proposals'),
  ticked: z.array(z.string().min(1).max(60)).max(40),
});

export const AnswerBody = z.discriminatedUnion('type', [ChoiceAnswer, NoteAnswer, ProposalsAnswer]);

/** An answer as sent: which step it belongs to, under which key, and what it says. */
export const AnswerRequest = z.strictObject({
  revision: z.number().int().min(0).max(1_000_000),
  key: Key,
  answer: AnswerBody,
});

/** Taking the last answer back. */
export const UndoRequest = z.strictObject({ revision: z.number().int().min(0).max(1_000_000), key: Key });

/** Changing an earlier answer: `entry` is its place among the answers that count, 1 for the first. */
export const ChangeRequest = z.strictObject({
  revision: z.number().int().min(0).max(1_000_000),
  key: Key,
  entry: z.number().int().min(1).max(1_000_000),
  answer: AnswerBody,
});

export { Answered, ComplaintText, longestComplaint, Person, Tool };
export type Opening = z.infer<typeof Opening>;
export type AnswerBody = z.infer<typeof AnswerBody>;
export type AnswerRequest = z.infer<typeof AnswerRequest>;
export type UndoRequest = z.infer<typeof UndoRequest>;
export type ChangeRequest = z.infer<typeof ChangeRequest>;
