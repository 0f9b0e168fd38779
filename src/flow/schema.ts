/** The shapes of the charts under flows/ (main.yaml, procedures/*.yaml) and of the events that move a run through them. */
import { z } from 'zod';

const Text = z.string().trim().min(1, 'write a text here');
const Id = z
  .string()
  .regex(
    /^[a-z][a-z0-9]*(?:-[a-z0-9]+)*$/,
    'an id is lower-case words joined by hyphens, for example be-sure',
  );
const Name = z
  .string()
  .regex(/^[a-z][A-Za-z0-9]*$/, 'a name of the memory is one word, for example ownerAllows');
const Source = z.array(z.string().min(1)).min(1);
/** In the files a list of one may be written without the list; inside it is always a list. */
const oneOrMore = <T extends z.ZodType>(item: T) =>
  z.preprocess(
    (value) => (Array.isArray(value) || value === undefined ? value : [value]),
    z.array(item).min(1),
  );

export const Person = z.enum(['director', 'helper', 'desk']);
export type Person = z.infer<typeof Person>;
export const Direction = z.enum(['in', 'out']);
export type Direction = z.infer<typeof Direction>;
/** What a procedure works on: it decides how a run that it mended is told at the end. */
export const Part = z.enum(['set-up', 'player', 'mechanism']);
export type Part = z.infer<typeof Part>;

const subjects = [
  'person',
  'flag',
  'word',
  'counter',
  'confirmed',
  'named',
  'adjusts',
  'supervised',
  'allowed',
  'part',
  'has',
  'lacks',
] as const;

/** One condition. Exactly one subject; `is`, `atLeast`, `atMost` belong to flag, word and counter. */
export const Condition = z
  .strictObject({
    person: z.union([Person, z.array(Person).min(1)]).optional(),
    flag: Name.optional(),
    word: Name.optional(),
    counter: Name.optional(),
    is: z.union([z.boolean(), z.string(), z.array(z.string()).min(1)]).optional(),
    atLeast: z.int().optional(),
    atMost: z.int().optional(),
    /** The fault in question (the verdict's, else the one in hand) has had its own proof. */
    confirmed: z.boolean().optional(),
    /** A fault is named (by the verdict, else in hand). */
    named: z.boolean().optional(),
    /** About the procedure in question (the verdict's, else the one in hand). */
    adjusts: z.boolean().optional(),
    supervised: z.boolean().optional(),
    /** This person may carry the procedure out at all. */
    allowed: z.boolean().optional(),
    part: z.union([Part, z.array(Part).min(1)]).optional(),
    /** Only in variants of a text: there is, or is not, something to put in this blank. */
    has: z.string().optional(),
    lacks: z.string().optional(),
  })
  .superRefine((condition, context) => {
    const given = subjects.filter((subject) => condition[subject] !== undefined);
    if (given.length !== 1) {
      context.addIssue({
        code: 'custom',
        message: `a condition has exactly one of ${subjects.join(', ')}; several conditions make a list`,
      });
    } else if ((given[0] === 'flag' || given[0] === 'word') !== (condition.is !== undefined)) {
      context.addIssue({ code: 'custom', message: 'a flag or a word needs "is", and nothing else has it' });
    } else if (
      (given[0] === 'counter') !==
      (condition.atLeast !== undefined || condition.atMost !== undefined)
    ) {
      context.addIssue({
        code: 'custom',
        message: 'a counter needs "atLeast" or "atMost", and nothing else has them',
      });
    }
  });
export type Condition = z.infer<typeof Condition>;
export const When = oneOrMore(Condition);

const go = {
  when: When.optional(),
  /** The state of the same chart to go to. */
  to: Id.optional(),
  /** In a procedure: leave the chart by this exit. */
  exit: Id.optional(),
  set: z.record(Name, z.union([z.boolean(), z.string(), z.int()])).optional(),
  count: z.record(Name, z.int()).optional(),
};
const oneTarget = (branch: { to?: string | undefined; exit?: string | undefined }) =>
  (branch.to === undefined) !== (branch.exit === undefined);

/** Where an answer leads, under which condition, and what is remembered. The first branch whose condition holds is taken. */
export const Branch = z
  .strictObject(go)
  .refine(oneTarget, 'say where it leads: either "to" (a state) or "exit" (of the procedure)');
export type Branch = z.infer<typeof Branch>;
const Branches = oneOrMore(Branch);

/** One answer offered. `go` lists branches; without it the choice itself is the branch. */
export const Choice = z
  .strictObject({
    id: Id,
    label: Text,
    /** quiet: a way out rather than an answer. */
    tone: z.enum(['plain', 'quiet']).default('plain'),
    /** What the answer tells of the proof of the fault in hand: it shows the fault again, or no longer. */
    proof: z.enum(['seen', 'gone']).optional(),
    ...go,
    go: z.array(Branch).min(1).optional(),
  })
  .refine(
    (choice) =>
      choice.go === undefined ? oneTarget(choice) : choice.to === undefined && choice.exit === undefined,
    {
      error: 'say where the answer leads: "to", "exit", or a list of branches under "go"',
    },
  );
export type Choice = z.infer<typeof Choice>;

/** watch: the check that proves the fault; opposite: the check that proves its opposite, when it was overdone. */
export const Picture = z.enum(['turn', 'watch', 'opposite', 'part', 'none']);
export type Picture = z.infer<typeof Picture>;
const texts = {
  title: Text,
  ask: Text,
  why: Text,
  plainly: Text,
  cautions: z.array(Id),
  picture: Picture,
};
const Variant = z.strictObject({ when: When, ...z.object(texts).partial().shape });
const page = {
  title: Text,
  ask: Text,
  why: z.string().default(''),
  /** The same for somebody who does not understand it; older editions have none. */
  plainly: Text.optional(),
  /** What is asked where there is no program to count and to remember, on the paper version; else the same as `ask`. */
  onPaper: Text.optional(),
  cautions: z.array(Id).default([]),
  picture: texts.picture.default('none'),
  /** Other texts where a condition holds; the first that fits is used. */
  variants: z.array(Variant).default([]),
  /** The page announces the procedure in hand: its cautions are shown here as well. */
  announces: z.boolean().default(false),
  /** The page announces what the family of the instrument asks for: its cautions are shown here as well. */
  announcesFamily: z.boolean().default(false),
  /** The answer that is taken for granted, and the page passed over, where nothing that could follow adjusts anything. */
  withoutAdjusting: Id.optional(),
  /** What this page is in an adjusting loop; the prover holds the chart to it. */
  role: z.enum(['turn', 'test', 'stop-sign', 'too-far', 'back-off', 'put-back']).optional(),
};
const answers = z.array(Choice);

export const verdicts = ['check', 'confirm', 'treat', 'bench', 'healthy', 'better', 'danger'] as const;
export type VerdictName = (typeof verdicts)[number];

/** Where each verdict leads. A chart that knows no "better" takes it for "healthy"; editions of before knew none. */
const Verdicts = z
  .strictObject({
    ...(Object.fromEntries(verdicts.map((name) => [name, Branches])) as Record<VerdictName, typeof Branches>),
    better: Branches.optional(),
  })
  .transform((led) => ({ ...led, better: led.better ?? led.healthy }));

export const State = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('question'), ...page, choices: answers.min(1) }),
  z.strictObject({ kind: z.literal('instruction'), ...page, choices: answers.min(1) }),
  /** What the complaint was taken to mean, to be ticked; skipped where there is nothing to tick. */
  z.strictObject({ kind: z.literal('proposals'), ...page, choices: answers.min(1) }),
  z.strictObject({
    kind: z.literal('notes'),
    ...page,
    group: z.enum(['play-test', 'retest']),
    choices: answers.min(1),
    /** Where the run goes on by itself when there is no note to play; editions of before have none. */
    none: Branches.optional(),
  }),
  /** The engine says which check; its answers are the check's. The texts stand in only where the check has none. */
  z.strictObject({
    kind: z.literal('check'),
    ...page,
    group: z.enum(['set-up', 'isolate', 'confirm']),
    recorded: Branches,
    choices: answers.default([]),
  }),
  /** Never shown: the verdict of the engine decides. */
  z.strictObject({
    kind: z.literal('weigh'),
    group: z.enum(['set-up', 'all']).default('all'),
    verdicts: Verdicts,
  }),
  /** Never shown: goes on at once by the first branch whose condition holds. */
  z.strictObject({ kind: z.literal('route'), go: z.array(Branch).min(1) }),
  /** Enters the chart of the procedure in hand; each of its exits leads on from here. */
  z.strictObject({ kind: z.literal('procedure'), exits: z.record(Id, Branches) }),
  z.strictObject({ kind: z.literal('outcome'), outcome: Id }),
]);
export type State = z.infer<typeof State>;
export type PageState = Extract<State, { choices: unknown }>;

/** What a chart remembers besides where it is. `means` is for the reader of the file. */
export const Memory = z.strictObject({
  flags: z.record(Name, z.strictObject({ starts: z.boolean(), means: Text })).default({}),
  counters: z.record(Name, z.strictObject({ from: z.int(), to: z.int(), means: Text })).default({}),
  words: z
    .record(Name, z.strictObject({ starts: z.string(), oneOf: z.array(z.string()).min(1), means: Text }))
    .default({}),
});
export type Memory = z.infer<typeof Memory>;

const chart = {
  memory: Memory.prefault({}),
  starts: Id,
  /** A quiet answer on every page that has none of the same id. */
  wayOut: Choice,
  states: z.record(Id, State),
  source: Source,
};

/** flows/main.yaml */
export const MainFile = z.strictObject({ chart: z.literal('main'), ...chart });
export type MainFile = z.infer<typeof MainFile>;

/** flows/procedures/<id>.yaml */
export const ProcedureFile = z.strictObject({
  procedure: Id,
  title: Text,
  /** What will be done, shown before anybody agrees to it. */
  aim: Text,
  /** What was done, told afterwards; older editions have none. */
  done: Text.optional(),
  part: Part,
  /** Turns, bends or hooks something on the instrument. */
  adjusts: z.boolean(),
  /** A helper needs a supervisor's word first. */
  supervised: z.boolean(),
  persons: z.array(Person).min(1),
  /** Things that must be to hand, in words. */
  tools: z.array(Text),
  cautions: z.array(Id),
  /** The counter that holds what has been turned, in eighths of a turn; a chart that has it is told the direction. */
  turns: Name.optional(),
  /** What each way out leaves behind. as-found: all put back; adjusted: done, for the retest; counted: turned, and the count goes on the ticket. */
  exits: z.record(Id, z.strictObject({ leaves: z.enum(['as-found', 'adjusted', 'counted']) })),
  ...chart,
});
export type ProcedureFile = z.infer<typeof ProcedureFile>;

/** What moves a run through the charts. */
export const FlowEvent = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('choice'), choice: z.string() }),
  /** Answers to a check (or notes) are recorded; `confirms`: the faults whose own proof this was. */
  z.strictObject({ type: z.literal('recorded'), confirms: z.array(z.string()) }),
  /** A page of notes has no note to play. */
  z.strictObject({ type: z.literal('none') }),
  /** The engine's verdict at a weigh state. `better`: well, although a note still fails or was not heard again. `procedure` (and `direction` for a screw) come with treat, `fault` with treat and confirm. */
  z.strictObject({
    type: z.literal('verdict'),
    verdict: z.enum(verdicts),
    fault: z.string().optional(),
    procedure: z.string().optional(),
    direction: Direction.optional(),
  }),
]);
export type FlowEvent = z.infer<typeof FlowEvent>;
