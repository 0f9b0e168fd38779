/** What flows/people.yaml says: how far an answer can be trusted, what a check costs, when to stop. */
import { z } from 'zod';

export const Text = z.string().min(1);
export const Source = z.array(z.string().min(1)).min(1);
export const Chance = z.number().min(0).max(1);
export const KebabId = z
  .string()
  .regex(/^[a-z0-9]+(?:-[a-z0-9]+)*$/, 'an id of lower-case words joined by hyphens');

export const Person = z.enum(['director', 'helper', 'desk']);
export type Person = z.infer<typeof Person>;
export const Tool = z.enum(['screwdriver', 'paper', 'leak-light', 'second-person', 'own-mouthpiece']);
export type Tool = z.infer<typeof Tool>;

/** How much a note fails somebody who falls short of it. */
export const ShortDegree = z.enum(['slight', 'clear']);
export type ShortDegree = z.infer<typeof ShortDegree>;

/** True when shares add up to 1. */
export const sumsToOne = (shares: Record<string, number>) =>
  Math.abs(Object.values(shares).reduce((sum, share) => sum + share, 0) - 1) < 1e-6;
const Answering = z
  .strictObject({ speaks: Chance, unsteady: Chance, wrong: Chance, silent: Chance })
  .refine(sumsToOne, { error: 'the four chances must add up to 1' });
const RuleFigure = z.strictObject({ value: z.number(), why: Text });
/** A figure that older editions have not: their runs go on with the one that people.yaml first had. */
const newer = (value: number) =>
  RuleFigure.default({ value, why: 'This edition does not tell it: the first value it had.' });

/** flows/people.yaml */
export const PeopleFile = z.strictObject({
  notes: z.strictObject({
    /** How a note that is disturbed so much is reported; `other` = the column gives another note. */
    answers: z.strictObject({
      none: Answering,
      slight: Answering,
      clear: Answering,
      severe: Answering,
      clearOctave: Answering,
      severeOctave: Answering,
      other: Answering,
    }),
    /** Share of `other` where the column gives another note and is disturbed as well, by degree. */
    otherShare: z.strictObject({ none: Chance, slight: Chance, clear: Chance, severe: Chance }),
    /** Naming a wrong note: right, a semitone off, an octave off; the rest is spread evenly. */
    naming: z.strictObject({ exact: Chance, semitone: Chance, octave: Chance }),
    /** A wrong note whose pitch the mechanism does not settle: the next register, a neighbour, the rest evenly. */
    unsettled: z.strictObject({ octaveUp: Chance, neighbour: Chance }),
    source: Source,
  }),
  /** The player's own shortcomings today, which are no fault of the instrument; at most one of them at a time. */
  player: z.strictObject({
    conditions: z.array(
      z.discriminatedUnion('end', [
        z.strictObject({
          /** At which end of the instrument's range, and how many semitones of it, the player falls short. */
          end: z.enum(['low', 'high']),
          semitones: z.number().int().positive(),
          chances: z.record(Person, Chance),
          source: Source,
        }),
        z.strictObject({
          /** Anywhere, now and then: this share of the notes. */
          end: z.literal('all'),
          share: Chance,
          /** How much a note then fails: it wavers only, or it fails outright, as in older editions. */
          degree: ShortDegree.default('clear'),
          chances: z.record(Person, Chance),
          source: Source,
        }),
      ]),
    ),
  }),
  somethingElse: z.strictObject({ likeHealthy: Chance, source: Source }),
  /** Share of answers that say nothing, by person: mixed evenly into every distribution. */
  blur: z.record(Person, z.strictObject({ notes: Chance, checks: Chance, source: Source })),
  /** How well a sign is caught: chance of a sign that is not there, and of seeing one that is, by how gross it is. */
  senses: z.record(
    KebabId,
    z.strictObject({
      falseYes: Chance,
      seen: z.strictObject({ slight: Chance, moderate: Chance, gross: Chance }),
      source: Source,
    }),
  ),
  costs: z.strictObject({
    /** A check that needs this costs so many seconds more. */
    tools: z.partialRecord(Tool, z.number().min(0)),
    /** Asking through a caller takes this many times as long. */
    persons: z.record(Person, z.number().positive()),
    /** Asking a person at all, over the time that the doing takes. */
    question: z.number().min(0),
    source: Source,
  }),
  rules: z.strictObject({
    confirmAt: RuleFigure,
    actAt: RuleFigure,
    tryAt: RuleFigure,
    rightTreatmentMinutes: RuleFigure,
    benchAt: RuleFigure,
    benchBits: RuleFigure,
    namedAt: RuleFigure,
    elseAt: RuleFigure,
    misfitNats: RuleFigure,
    leastBits: RuleFigure,
    mostChecks: RuleFigure,
    mostSetUpChecks: RuleFigure,
    healthyNotes: RuleFigure,
    soundAt: newer(0.55),
    missedMinutes: newer(45),
    hiddenMinutes: newer(25),
    needlessMinutes: newer(30),
    /** Of older editions; nothing goes by it any more. */
    wellAt: RuleFigure.optional(),
    faultShare: RuleFigure,
    mendedResidual: RuleFigure,
    unchangedResidual: RuleFigure,
  }),
});
export type PeopleFile = z.infer<typeof PeopleFile>;
