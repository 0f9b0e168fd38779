/** What "Why?" shows of a run: the suspects, the pattern of the notes, and what further checks would tell. */
import { z } from 'zod';
import { Answered } from './schema.ts';

const Share = z.number().min(0).max(1).describe('share of all chances, from 0 to 1');

export const WhyChange = z.enum(['rose', 'rose-a-little', 'same', 'fell-a-little', 'fell']);

export const WhySuspect = z.object({
  kind: z
    .enum(['fault', 'nothing-wrong', 'not-listed', 'everything-else'])
    .describe('not-listed: something that is in no list, where that is likely enough to stand by itself'),
  fault: z.string().nullable().describe('its id; null for all that is no fault'),
  title: z.string(),
  before: z
    .object({ probability: Share, words: z.string() })
    .nullable()
    .describe('before the last answer; null when there was none'),
  now: z.object({ probability: Share, words: z.string().describe('e.g. "about 8 in 10"') }),
  change: WhyChange.nullable(),
});

export const WhyNote = z.object({
  fingering: z.string(),
  note: z.string().describe('written pitch, e.g. C#4'),
  name: z.string().describe('as a player says it'),
  heard: Answered,
  sounded: z.string().nullable(),
  words: z.string().describe('what was heard, e.g. "silent"'),
});

export const WhyPrediction = z.object({
  answers: z.enum(['speaks', 'suffers-a-little', 'suffers', 'fails', 'another-note']),
  jumpsUp: z.boolean().describe('it favours the next register: the octave above, on a clarinet the twelfth'),
  sounded: z.string().nullable().describe('the other note that it would give'),
  words: z.string(),
  fits: z.enum(['agrees', 'disagrees', 'not-heard']).describe('with what was heard of this note'),
});

export const WhyPattern = z.object({
  notes: z.array(WhyNote).describe('those played, from low to high'),
  suspects: z
    .array(
      z.object({
        faults: z.array(z.string()).describe('one fault, two at once, or none'),
        title: z.string(),
        agrees: z.number().int().describe('with so many of the notes that were heard'),
        heard: z.number().int().describe('so many notes were heard'),
        predictions: z.array(WhyPrediction).describe('one for each of the notes, in their order'),
      }),
    )
    .describe('the leading ones, each taken alone, as bad as fits the answers best'),
});

export const WhyCheck = z.object({
  check: z.string(),
  title: z.string(),
  isAskedNow: z.boolean(),
  seconds: z.number().describe('about how long it takes'),
  duration: z.string().describe('the same in words'),
  tells: z.string().describe('what it would separate, in words'),
  answers: z.array(
    z.object({
      answer: z.string(),
      label: z.string(),
      leads: z.string().describe('what would then be the likeliest'),
      probability: Share,
      words: z.string(),
    }),
  ),
});

export const WhyView = z.object({
  id: z.string(),
  revision: z.number().int(),
  instrument: z.object({ id: z.string(), name: z.string() }),
  sentences: z.array(z.string()).describe('the explanation, first to last'),
  moment: z
    .enum(['now', 'before-treatment'])
    .describe('which state of things is explained: a mended instrument is explained as it was before'),
  last: z
    .object({ kind: z.enum(['answer', 'notes', 'treatment']), asked: z.string(), answered: z.string() })
    .nullable()
    .describe('what lies between "before" and "now"'),
  suspects: z
    .array(WhySuspect)
    .describe('likeliest first, then "nothing wrong" and "everything else"; sums to 1'),
  pattern: WhyPattern,
  checks: z.array(WhyCheck).describe('the ones that tell most for the time they take'),
});

export type WhyChange = z.infer<typeof WhyChange>;
export type WhySuspect = z.infer<typeof WhySuspect>;
export type WhyNote = z.infer<typeof WhyNote>;
export type WhyPrediction = z.infer<typeof WhyPrediction>;
export type WhyPattern = z.infer<typeof WhyPattern>;
export type WhyCheck = z.infer<typeof WhyCheck>;
export type WhyView = z.infer<typeof WhyView>;
