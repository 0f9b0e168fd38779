/** The paper version of a flow, as pages and API show it: questions by number, endings, and the way between them. */
import { z } from 'zod';
import { Person, Tool } from '../runs/schema.ts';

const Id = z.string().min(1).max(60);

/** What a sheet is made for. */
export const PaperRequest = z.strictObject({
  instrument: Id,
  person: Person,
  tools: z.array(Tool).max(10).default([]),
  failing: z
    .array(Id)
    .min(1, 'Name at least one note that fails.')
    .max(60)
    .describe('ids of the fingerings that fail'),
});

const Way = z.object({
  label: z.string().describe('the answer'),
  when: z
    .string()
    .describe('the condition under which it leads there, empty for none; the first that holds is taken'),
  to: z.enum(['before', 'question', 'ending', 'step', 'retest', 'bench']),
  number: z.number().int().nullable().describe('of the box, question, ending or step; null for the others'),
  words: z.string().describe('where the answer leads, e.g. "go to 4"'),
});

export const PaperSheet = z.object({
  instrument: z.object({ id: z.string(), name: z.string() }),
  person: z.string().describe('who works with it'),
  complaint: z.string().describe('which notes fail, in words'),
  edition: z.string().describe('version of the flows that it was made from'),
  covered: z
    .number()
    .describe('share of instruments with this complaint that the sheet leads to a named part'),
  coverage: z.string().describe('the same in a sentence'),
  before: z.array(
    z.object({
      number: z.number().int(),
      ask: z.string(),
      ways: z.array(Way).describe('empty where it is only to be done'),
    }),
  ),
  cautions: z.array(z.string()),
  notes: z.array(z.object({ name: z.string(), note: z.string(), words: z.string(), fails: z.boolean() })),
  fill: z.number().describe('share of two pages that it takes in the smallest type'),
  start: z.string().describe('where to begin after the notes'),
  questions: z.array(
    z.object({
      number: z.number().int(),
      check: z.string(),
      title: z.string(),
      ask: z.string(),
      askedAt: z
        .number()
        .int()
        .nullable()
        .describe('the question before that asks the same, if there is one'),
      isProof: z.boolean().describe('what it shows is the proof without which nothing is treated'),
      answers: z.array(Way.extend({ saw: z.string() })),
    }),
  ),
  endings: z.array(
    z.object({
      number: z.number().int(),
      kind: z.enum(['treat', 'bench', 'healthy']),
      fault: z.string().nullable(),
      title: z.string(),
      text: z.array(z.string()),
      cautions: z.array(z.string()),
      adjusts: z.boolean(),
      words: z.array(z.string()).describe('who has to say yes first'),
      steps: z.array(
        z.object({
          number: z.number().int(),
          ask: z.string(),
          ways: z.array(Way),
          boxes: z.number().int().describe('eighths of a turn to tick; 0 where nothing is turned'),
        }),
      ),
      stepsAt: z
        .number()
        .int()
        .nullable()
        .describe('the ending before that has the same steps, if there is one'),
      retest: z.string(),
    }),
  ),
});

/** One complaint to choose from. */
export const PaperComplaint = z.object({
  failing: z.array(z.string()).describe('ids of the fingerings that fail'),
  words: z.string(),
  chance: z.string().describe('how many single faults show in just these notes'),
});

/** Boxes and steps go by letters, so that they are not mistaken for questions: 1 is "a". */
export function letterOf(number: number): string {
  return String.fromCharCode(96 + number);
}

export type PaperRequest = z.infer<typeof PaperRequest>;
export type PaperSheet = z.infer<typeof PaperSheet>;
export type PaperWay = z.infer<typeof Way>;
export type PaperComplaint = z.infer<typeof PaperComplaint>;
