/** What a run shows: the one description from which pages, the API and their OpenAPI document are made. */
import { z } from 'zod';
import { Answered, Person } from './schema.ts';

export const PictureView = z.object({
  svg: z.string().describe('SVG text'),
  words: z.string().describe('the same in words'),
});

export const ChoiceView = z.object({
  id: z.string(),
  label: z.string(),
  tone: z.enum(['plain', 'quiet']).describe('quiet: a way out rather than an answer'),
});

export const ToneView = z.object({
  sounding: z.string().describe('what sounds when the note is played, e.g. E3 for C#4 on an alto saxophone'),
  frequency: z
    .number()
    .describe('hertz in equal temperament at A4 = 440 Hz (ISO 16); at another A, times A / 440'),
  words: z.string().describe('the same in words'),
});

/** A written note to be played: how it stands in the music, and how it sounds. */
export const WrittenNoteView = z.object({
  note: z.string().describe('written pitch, e.g. C#4'),
  name: z.string().describe('as a player says it, e.g. "low C sharp"'),
  staff: PictureView.nullable().describe('the note on a staff; null where it could not be engraved'),
  tone: ToneView,
});

export const NoteRowView = WrittenNoteView.extend({
  fingering: z.string(),
  words: z.string().describe('the fingering in words'),
  picture: PictureView,
  answered: Answered.nullable(),
  sounded: z.string().nullable(),
  group: z.enum(['first', 'then']).describe('first: play these; then: only if there is time or doubt'),
});

/** A held note to be listened to, turn by turn, while the key is tapped that a link should hold. */
export const WaveringView = z.object({
  trial: z.string().describe('the same through one treatment of one fault'),
  isAsked: z.boolean().describe('whether this step is one at which to listen'),
  turned: z.number().int().describe('eighths of a turn so far'),
  turnedWords: z.string(),
  touch: z.string().describe('what to tap, e.g. "G sharp touch"'),
  note: z.string().describe('written pitch of the note to hold'),
  name: z.string(),
  tone: ToneView,
});

export const OutcomeView = z.object({
  id: z.string(),
  title: z.string(),
  lead: z.string().describe('what was wrong and how sure, in one or two sentences'),
  explanation: z.array(z.string()),
  done: z.array(z.string()).describe('what was done to the instrument, turns counted'),
  recheck: z.array(z.string()).describe('what to look at again in a week'),
  untilMended: z.array(z.string()),
  alternates: z.array(WrittenNoteView.extend({ words: z.string(), picture: PictureView })),
  cautions: z.array(z.string()),
  escalation: z.string(),
  ticket: z
    .object({
      number: z.string(),
      opened: z.string(),
      instrument: z.string(),
      person: z.string(),
      complaint: z.string(),
      confirmed: z.array(z.string()).describe('what the complaint was understood to mean, and was confirmed'),
      owner: z.string(),
      findings: z.array(z.object({ what: z.string(), seen: z.string() })),
      notes: z.array(z.object({ note: z.string(), name: z.string(), answered: z.string() })),
      suspects: z.array(z.object({ title: z.string(), chance: z.string(), confirm: z.string() })),
      adjustments: z.array(z.string()),
      job: z.object({ name: z.string(), includes: z.string(), hours: z.string(), basis: z.string() }),
      urgency: z.object({ level: z.string(), meaning: z.string() }),
      tellTheBench: z.array(z.string()),
    })
    .nullable(),
});

export const ProposalView = z.object({
  id: z.string(),
  says: z.string().describe('what would be taken for true, as a sentence'),
  isLikely: z.boolean().describe('false: another reading of words that can mean several things'),
  isTicked: z.boolean().describe('ticked in the answer that is being changed; never beforehand'),
});

/** The complaint, cut up by what was made of its words. */
export const ReadingView = z.object({
  words: z
    .array(
      z.object({
        text: z.string(),
        is: z
          .enum(['counts', 'known', 'missed', 'between'])
          .describe(
            'counts: it is in a proposal; known: understood, but nothing is proposed by it; missed: not understood; between: what joins the rest',
          ),
      }),
    )
    .describe('together they are the complaint as it was written'),
  known: z.array(z.string()).describe('words that were understood and by which nothing is proposed'),
  missed: z.array(z.string()).describe('words that were not understood, each once'),
});

export const StepView = z.object({
  id: z.string(),
  kind: z.enum(['question', 'instruction', 'proposals', 'check', 'notes', 'outcome']),
  title: z.string(),
  ask: z.string().describe('what to do, in plain words; paragraphs are separated by a blank line'),
  why: z.string(),
  plainly: z
    .string()
    .describe('what to do, for somebody who does not understand it; empty in runs of an older edition'),
  terms: z
    .array(z.object({ word: z.string(), means: z.string() }))
    .describe('the trade’s words that stand on this step, with their meanings'),
  cautions: z.array(z.string()).describe('those that this run has not shown at an earlier step'),
  reminders: z
    .array(z.object({ text: z.string(), brief: z.string().describe('the same in a few words') }))
    .describe('cautions of this step that this run has shown before; they hold all the same'),
  picture: PictureView.nullable(),
  written: WrittenNoteView.nullable().describe('the note that a step asks to be played, where it is one'),
  wavering: WaveringView.nullable().describe('only while a screw is turned whose link holds a key'),
  choices: z.array(ChoiceView),
  notes: z.array(NoteRowView),
  proposals: z
    .array(ProposalView)
    .describe('what the complaint was taken to mean; it counts only once it is answered with `proposals`'),
  reading: ReadingView.nullable().describe(
    'what was made of the complaint: where it is to be confirmed, and on the first step where nothing came of it',
  ),
  outcome: OutcomeView.nullable(),
});

export const TurnView = z.object({
  entry: z.number().int().describe('place among the answers that count, from 1'),
  asked: z.string(),
  answered: z.string(),
  canChange: z.boolean(),
});

export const SuspectView = z.object({
  fault: z.string(),
  title: z.string(),
  kind: z.string(),
  place: z.string(),
  probability: z.number(),
  because: z.array(z.string()),
});

export const ExampleView = z.object({
  page: z.number().int().describe('from 1'),
  pages: z.number().int(),
  invented: z.string().describe('one sentence that says what is invented'),
  answered: z.string().nullable().describe('what was answered at this step; null at the end'),
  previous: z.string().nullable().describe('the run that shows the page before'),
  next: z.string().nullable().describe('the run that shows the page after'),
});

export const RunView = z.object({
  id: z.string(),
  revision: z.number().int(),
  instrument: z.object({
    id: z.string(),
    name: z.string(),
    nextRegister: z
      .number()
      .int()
      .describe('how many times as high the same fingers speak when they overblow: 2, or 3 on a clarinet'),
  }),
  person: Person,
  complaint: z.string().nullable(),
  openedAt: z.string(),
  edition: z.string().describe('version of the flows that this run began with'),
  closed: z.boolean(),
  conversation: z.array(TurnView),
  progress: z.object({
    ruledOut: z.string().describe('what is as good as ruled out, counted'),
    ahead: z.string().describe('about how many checks are still to come; says so when that has risen'),
    checks: z
      .object({ from: z.number().int(), to: z.number().int() })
      .nullable()
      .describe('fewest and most checks to come under the leading explanations; null where none is to come'),
    hasRisen: z.boolean().describe('more are to come than it looked before the last answer'),
  }),
  step: StepView,
  example: ExampleView.nullable().describe('null for a real run; else this is an example, only to be read'),
});

export type PictureView = z.infer<typeof PictureView>;
export type ToneView = z.infer<typeof ToneView>;
export type WaveringView = z.infer<typeof WaveringView>;
export type WrittenNoteView = z.infer<typeof WrittenNoteView>;
export type ChoiceView = z.infer<typeof ChoiceView>;
export type ProposalView = z.infer<typeof ProposalView>;
export type NoteRowView = z.infer<typeof NoteRowView>;
export type OutcomeView = z.infer<typeof OutcomeView>;
export type ReadingView = z.infer<typeof ReadingView>;
export type StepView = z.infer<typeof StepView>;
export type TurnView = z.infer<typeof TurnView>;
export type SuspectView = z.infer<typeof SuspectView>;
export type ExampleView = z.infer<typeof ExampleView>;
export type RunView = z.infer<typeof RunView>;
