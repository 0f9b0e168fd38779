/** One instrument, told in full: the one description from which its page, the API and their OpenAPI document are made. */
import { z } from 'zod';

const Id = z.string().min(1).max(60);

const Sources = z
  .array(z.string())
  .describe(
    'ids of `sources`, or a mark: “common practice, no source”, “estimate” (ours), “derived” (computed)',
  );

/** What all parts have. */
const part = {
  id: Id,
  name: z.string(),
  alsoCalled: z.array(z.string()),
  source: Sources,
  remark: z.string().nullable(),
};

const Presence = z.string().describe('all, most or some instruments of this kind have it');

const tubePart = {
  ...part,
  presence: Presence,
  where: z.string().describe('what works it, or when the air goes through it'),
};

const MotionView = z.object({
  part: Id.describe('the part that is moved'),
  action: z.string().describe('opens, closes, holds (keeps shut), presses or raises'),
  link: Id.nullable().describe('the adjustable place that carries the motion; null: it is rigid'),
  when: z
    .object({ link: Id, engaged: z.boolean() })
    .nullable()
    .describe('works only while this switch is (or is not) thrown'),
});

const Degree = z.enum(['none', 'slight', 'clear', 'severe']);

/** What a fault does to some of the fingerings, in the same way to each. */
const EffectView = z.object({
  degree: Degree.describe('how much the note is disturbed; none: it speaks cleanly, as another note'),
  nextRegister: z.boolean().describe('it tends up to the next register'),
  shift: z
    .number()
    .int()
    .nullable()
    .describe('semitones from the note of the fingering to the one that comes; null: its own'),
  how: z.string().describe('degree, register and the note that comes, in words'),
  fingerings: z.array(Id),
  notes: z
    .string()
    .describe(
      'the same in words, “to” for a run of neighbours; others only where they fare unlike the standard',
    ),
});

const FaultView = z.object({
  id: Id.describe('kind@place'),
  kind: z.string(),
  place: Id,
  title: z.string(),
  severity: z.string().describe('the severity that the effects are worked out for'),
  effects: z.array(EffectView).describe('from low to high; empty: no note changes'),
  spared: z.string().describe('other fingerings that speak although the standard one of their note suffers'),
  provedBy: z.array(z.object({ check: Id, title: z.string(), answer: z.string() })),
  treatment: z
    .object({ procedure: Id, title: z.string(), adjusts: z.boolean(), source: Sources })
    .nullable()
    .describe('what may be done before the bench; null: bench work'),
  job: z.string().describe('the class of bench work'),
  urgency: z.string(),
});

const PitchView = z.object({
  note: z.string().describe('written pitch'),
  sounding: z.string(),
  frequency: z.number().describe('hertz, A4 = 440 Hz (ISO 16)'),
});

export const InstrumentDetail = z.object({
  id: Id,
  name: z.string(),
  family: z.string(),
  clef: z.string(),
  transposition: z.object({
    semitones: z.number().int().describe('from the written to the sounding note'),
    sounds: z.string().describe('the key it is said to stand in, e.g. Eb'),
  }),
  range: z.object({ lowest: z.string(), highest: z.string() }),
  pitch: z.object({ lowest: PitchView, highest: PitchView }),
  source: Sources,
  vents: z
    .array(
      z.object({
        ...part,
        cover: z.string().describe('pad or finger'),
        rest: z.enum(['open', 'closed']),
        spring: z.string().describe('what its own spring does to it'),
        note: z.string().nullable().describe('what sounds when it is the highest open hole'),
        isRegisterVent: z.boolean(),
        presence: Presence,
      }),
    )
    .describe('in the order in which the air meets them'),
  touches: z.array(
    z.object({
      ...part,
      hand: z.string(),
      finger: z.string(),
      where: z.string().describe('the finger in words'),
      moves: z.array(MotionView),
    }),
  ),
  keys: z
    .array(z.object({ ...part, hasSpring: z.boolean(), moves: z.array(MotionView) }))
    .describe('moving parts between touches and vents'),
  links: z
    .array(
      z.object({
        ...part,
        action: z.string(),
        drivers: z.array(Id),
        targets: z.array(Id),
        adjuster: z.string(),
        adjusterKind: z.string(),
        lookAlike: Id.nullable().describe('a neighbour that is easily mistaken for it'),
        work: z.string().describe('who may set it: director or bench'),
        presence: Presence,
      }),
    )
    .describe('places where one part moves another and which can be out of adjustment'),
  joints: z.array(z.object(part)),
  bores: z.array(
    z.object({
      ...part,
      after: Id.nullable().describe('the last vent above this stretch'),
      gathersWater: z.boolean(),
    }),
  ),
  tube: z
    .object({
      valves: z.array(z.object({ ...tubePart, sort: z.string().describe('piston or rotor') })),
      slides: z.array(
        z.object({
          ...tubePart,
          lowers: z.number().int().describe('semitones by which its tubing lowers a note'),
          positions: z
            .number()
            .int()
            .nullable()
            .describe('where it is drawn in playing: to so many positions'),
        }),
      ),
      waterKeys: z.array(z.object(tubePart)),
      pairs: z.array(z.object({ id: Id, name: z.string() })).describe('pistons that can be exchanged'),
    })
    .nullable()
    .describe('valves, slides and water keys of a brass instrument'),
  causes: z
    .array(z.object({ ...part, group: z.string() }))
    .describe('set-up and player: no fault of the mechanism'),
  faults: z.array(FaultView),
  frequencies: z
    .array(z.object({ name: z.string(), per100: z.number(), source: Sources }))
    .describe('how often what is wrong is met, per 100 complaints'),
  fingerings: z.array(
    z.object({
      id: Id,
      ...PitchView.shape,
      name: z.string().describe('as a player says it'),
      kind: z.string().describe('standard, alternate or test'),
      register: z.number().int(),
      touches: z.array(z.string()),
      words: z.string().describe('what to press, in words'),
      partial: z.number().int().nullable().describe('on brass: the partial that it plays'),
      position: z.number().int().nullable().describe('on a slide: the position'),
      cents: z.number().int().nullable().describe('on brass: how far it lies off by nature, above 0 sharp'),
      source: Sources,
      remark: z.string().nullable(),
    }),
  ),
  playTest: z.object({ order: z.array(Id), source: Sources }),
  checks: z.array(
    z.object({ id: Id, title: z.string(), answers: z.array(z.object({ id: Id, label: z.string() })) }),
  ),
  sources: z
    .array(
      z.object({
        id: Id,
        author: z.string().nullable(),
        title: z.string(),
        year: z.number().int().nullable(),
        address: z.string().nullable(),
        read: z.string().nullable().describe('how much of it could be read'),
      }),
    )
    .describe('everything that is named above'),
});

export type FaultView = z.infer<typeof FaultView>;
export type InstrumentDetail = z.infer<typeof InstrumentDetail>;
