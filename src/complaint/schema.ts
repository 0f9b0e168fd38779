/** The words people use for what is wrong: flows/complaint.yaml, and the shapes that come out of a reading. */
import { z } from 'zod';
import { PlaceId } from '../diagnosis/index.ts';
import { NoteName } from '../mechanism/index.ts';

/** So long at most is a complaint, in characters: what a form takes, what is read of it, what a ticket has room for. */
export const longestComplaint = 500;

/** A complaint as it is sent. */
export const ComplaintText = z
  .string()
  .trim()
  .max(longestComplaint, `Say it in at most ${longestComplaint} characters.`);

const Text = z.string().min(1);
const CheckWords = z.string().regex(/^[a-z0-9]+(?:-[a-z0-9]+)*$/, 'an id of checks.yaml');
/** Expressions: words by spaces, `a|b` for either, `(word)` for one that may be missing. */
const Words = z.array(Text).min(1);
const Share = z.number().min(0).max(1);
/** Only on instruments of these families; left out: on all. */
const Families = z.array(Text).min(1).optional();

/** Which notes an expression means; worked out from the instrument. */
const Take = z.discriminatedUnion('by', [
  /** A share of the range: 0 is the lowest note, 1 the highest. */
  z.strictObject({ by: z.literal('share'), from: Share, to: Share }),
  z.strictObject({
    by: z.literal('register'),
    register: z.union([z.literal(1), z.literal(2), z.literal(3)]),
  }),
  /** Written notes, both ends included. */
  z.strictObject({ by: z.literal('span'), from: NoteName.optional(), to: NoteName.optional() }),
  /** Notes whose standard fingering uses such a touch. */
  z.strictObject({
    by: z.literal('touch'),
    hand: z.enum(['left', 'right']).optional(),
    fingers: z.array(z.enum(['thumb', 'index', 'middle', 'ring', 'little'])).optional(),
    part: z.enum(['palm', 'side', 'neither']).optional(),
  }),
]);
export type Take = z.infer<typeof Take>;

const Level = z
  .strictObject({
    words: Words,
    /** Which of the notes of one name. */
    place: z.enum(['lowest', 'middle', 'upper', 'highest']).optional(),
    register: z.union([z.literal(1), z.literal(2), z.literal(3)]).optional(),
    families: Families,
    /** Written notes between which it lies, both included. */
    span: z.strictObject({ from: NoteName, to: NoteName }).optional(),
    /** How the parts' names say it. */
    inNames: Text.optional(),
  })
  .refine(
    ({ place, register, span }) => [place, register, span].filter((one) => one !== undefined).length === 1,
    {
      error: 'give one of a place, a register and a span',
    },
  );
export type Level = z.infer<typeof Level>;

const Stretch = z.strictObject({ words: Words, as: Text, families: Families, take: Take });
export type Stretch = z.infer<typeof Stretch>;

const Answer = z.strictObject({
  words: Words,
  as: Text,
  families: Families,
  answered: z.enum(['speaks', 'unsteady', 'wrong', 'silent']),
  /** Said without a note: of every note, or of nobody knows which. */
  alone: z.enum(['all', 'none']),
  /** The same with "not", where that is another thing ("it does not play"). */
  aloneNegated: z.enum(['all', 'none']).optional(),
  /** What it means with "not"; left out: nothing that counts. */
  negated: z.enum(['speaks', 'unsteady', 'wrong', 'silent']).optional(),
  /** The note that comes instead: an octave off, or the one that the same fingers give in the next register. */
  octave: z.enum(['up', 'down']).optional(),
  register: z.enum(['up', 'down']).optional(),
  /** Where the name of the note that comes instead stands. */
  names: z.enum(['after', 'before']).optional(),
  /** A verb that says little beside a better word ("plays" in "plays flat"). */
  isVerb: z.boolean().optional(),
});
export type Answer = z.infer<typeof Answer>;

/** One finding at the part; the first check that the part has is taken, or each as one reading where any can be meant. */
const Shown = z.strictObject({
  says: Text,
  /** `says`: the sentence where this check puts it otherwise. */
  checks: z.array(z.strictObject({ check: CheckWords, saw: CheckWords, says: Text.optional() })).min(1),
  /** Any of them can be meant ("does not work"): each is offered, none as the likely one. */
  isOpen: z.boolean().optional(),
  /** Said of parts of one sort of which none is told apart ("a valve sticks"): the check that looks at all of them. */
  several: z
    .array(z.strictObject({ of: z.enum(['valve', 'slide']), check: CheckWords, saw: CheckWords, says: Text }))
    .optional(),
});
export type Shown = z.infer<typeof Shown>;

const Sign = z
  .strictObject({
    words: Words,
    as: Text,
    families: Families,
    shown: Shown.optional(),
    negated: Shown.optional(),
  })
  .refine((sign) => sign.shown !== undefined || sign.negated !== undefined, {
    error: 'say what is shown, or what is shown with "not"',
  });
export type Sign = z.infer<typeof Sign>;

const Story = z.strictObject({
  words: Words,
  as: Text,
  families: Families,
  says: Text,
  check: CheckWords,
  /** The part that the check is made at; left out: the instrument, or the only part that has it. */
  at: PlaceId.optional(),
  saw: CheckWords,
  negated: z.strictObject({ says: Text, saw: CheckWords }).optional(),
});
export type Story = z.infer<typeof Story>;

const Mute = z.strictObject({ words: Words, as: Text, families: Families });
export type Mute = z.infer<typeof Mute>;

/** One note, several, a run of neighbours, every note, every note of which nothing else was said. */
const Sentence = z.strictObject({ one: Text, many: Text, run: Text, all: Text, rest: Text });

/** flows/complaint.yaml */
export const Vocabulary = z.strictObject({
  limits: z.strictObject({
    /** Only in editions of before: what is read of a text, in characters. */
    characters: z.number().int().positive().optional(),
    /** Notes that a stretch of notes puts forward at most. */
    notes: z.number().int().min(2),
    /** Proposals that are put forward at most; likely readings come first. */
    proposals: z.number().int().positive(),
    /** Other readings that are put forward beside the likeliest. */
    otherReadings: z.number().int().min(0),
    /** Chance from which one part among several is the one that is meant. */
    partAt: Share,
  }),
  /** Letters that a word must have, for one slip and for two to be forgiven. */
  spelling: z.strictObject({ oneSlip: z.number().int().min(4), twoSlips: z.number().int().min(6) }),
  plain: Words,
  skipped: Words,
  instruments: Words,
  same: z.array(z.strictObject({ words: Words, means: Text })),
  accidentals: z.strictObject({ sharp: Words, flat: Words, natural: Words }),
  letterWords: z.array(z.string().regex(/^[a-g]s?$/)),
  letterCues: Words,
  levels: z.array(Level).min(1),
  noteNouns: Words,
  partNouns: Words,
  directions: z.strictObject({
    below: Words,
    above: Words,
    andDown: Words,
    andUp: Words,
    from: Words,
    to: Words,
    downTo: Words,
    upTo: Words,
    between: Words,
  }),
  joins: Words,
  breaks: Words,
  prepositions: Words,
  auxiliaries: Words,
  negations: Words,
  nothing: Words,
  hardly: Words,
  only: Words,
  except: Words,
  all: Words,
  rest: Words,
  /** Notes that nobody names ("some notes"); editions that were kept before have none. */
  some: Words.optional(),
  stretches: z.array(Stretch),
  answers: z.array(Answer).min(1),
  /** How notes answer that a complaint only names, offered as one reading of it; left out: nothing is offered. */
  unsaid: z.enum(['unsteady', 'wrong', 'silent']).optional(),
  signs: z.array(Sign),
  stories: z.array(Story),
  noEffect: z.array(Mute),
  sentences: z.strictObject({
    speaks: Sentence,
    unsteady: Sentence,
    wrong: Sentence,
    silent: Sentence,
    octaveUp: Sentence,
    octaveDown: Sentence,
    /** Editions that were kept before knew octaves alone. */
    registerUp: Sentence.optional(),
    registerDown: Sentence.optional(),
    named: Sentence,
  }),
});
export type Vocabulary = z.infer<typeof Vocabulary>;
