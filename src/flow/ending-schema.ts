/** The shapes of flows/outcomes.yaml, jobs.yaml and cautions.yaml: how a run ends and what is said with it. */
import { z } from 'zod';
import { When } from './schema.ts';

const Text = z.string().trim().min(1, 'write a text here');
const Id = z
  .string()
  .regex(
    /^[a-z0-9]+(?:-[a-z0-9]+)*$/,
    'an id is lower-case words joined by hyphens, for example mended-watch',
  );
const Source = z.array(z.string().min(1)).min(1);

/** A source named beside the texts that use it; it joins those of flows/sources.yaml. */
export const SourceEntry = z.strictObject({
  id: Id,
  author: Text.optional(),
  title: Text,
  year: z.int().optional(),
  address: Text.optional(),
  read: Text,
});
export type SourceEntry = z.infer<typeof SourceEntry>;

/** One warning or rule of care. */
export const Caution = z.strictObject({
  id: Id,
  text: Text,
  /** The same in a few words, for a page on which it is shown again; older editions have none. */
  brief: Text.optional(),
  source: Source,
});
export type Caution = z.infer<typeof Caution>;

/** flows/cautions.yaml */
export const CautionsFile = z.strictObject({
  cautions: z.array(Caution).min(1),
  sources: z.array(SourceEntry).default([]),
});
export type CautionsFile = z.infer<typeof CautionsFile>;

/** One class of bench work. `basis` says whether the hours are published or an estimate that a shop should set itself. */
export const Job = z.strictObject({
  id: Id,
  name: Text,
  includes: Text,
  hours: z
    .strictObject({ from: z.number().positive(), to: z.number().positive() })
    .refine((hours) => hours.from <= hours.to, 'from is more than to'),
  basis: z.enum(['published', 'estimate']),
  source: Source,
});
export type Job = z.infer<typeof Job>;

/** How soon the instrument must be seen. */
export const Urgency = z.strictObject({ id: Id, name: Text, when: Text, action: Text, source: Source });
export type Urgency = z.infer<typeof Urgency>;

/** flows/jobs.yaml */
export const JobsFile = z.strictObject({
  jobs: z.array(Job).min(1),
  urgencies: z.array(Urgency).min(1),
  sources: z.array(SourceEntry).default([]),
});
export type JobsFile = z.infer<typeof JobsFile>;

/** How a run ends. */
export const Outcome = z.strictObject({
  id: Id,
  title: Text,
  /** What was wrong and what was done, as a template. */
  lead: Text,
  /** Other words where a condition holds; the first that fits is used. */
  variants: z
    .array(z.strictObject({ when: When, title: Text.optional(), lead: Text.optional() }))
    .default([]),
  cautions: z.array(Id).min(1, 'every outcome carries at least one caution'),
  /** What to do until it is mended, or so that it stays mended. */
  untilMended: z.array(Text).min(1, 'say what to do until it is mended'),
  /** Whom to turn to, and when. */
  escalation: Text,
  /** What to look at again in a week. */
  recheck: z.array(Text).default([]),
  /** A level of jobs.yaml, or what was asked on the way (the memory word "urgency"). */
  urgency: z.union([z.literal('asked'), Id]),
  ticket: z.boolean(),
  /** The class of bench work: that of the fault, or one of jobs.yaml. */
  job: z.union([z.literal('of-the-fault'), Id]),
  source: Source,
});
export type Outcome = z.infer<typeof Outcome>;

/** flows/outcomes.yaml */
export const OutcomesFile = z.strictObject({
  outcomes: z.array(Outcome).min(1),
  sources: z.array(SourceEntry).default([]),
});
export type OutcomesFile = z.infer<typeof OutcomesFile>;
