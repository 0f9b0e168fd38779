import { z } from 'zod';
import { NoteName } from './notes.ts';
import { Presence, partId, Source, Text } from './part-schema.ts';
import { TubeFile, ValveId } from './tube-schema.ts';

export { SOURCE_MARKS } from './part-schema.ts';

export const VentId = partId('cup|hole');
export const TouchId = partId('touch');
export const KeyId = partId('key|bar|lever');
export const LinkId = partId('link');
const FingeringId = z.string().regex(/^(fg|test)\.[A-Za-z0-9+-]+$/, 'an id of the form fg.… or test.…');

/** How a vent or joint that is fully open (or pinholed) disturbs a note: loss in decibels of the first and second resonance, by written low-register note. */
export const LossPoint = z.strictObject({
  note: NoteName,
  mode1: z.number().min(0),
  mode2: z.number().min(0),
});
export type LossPoint = z.infer<typeof LossPoint>;
const Loss = z.array(LossPoint).min(2);

/** One thing that moves when a touch or key is worked. Without a link the motion is rigid. */
export const Motion = z.strictObject({
  part: z.union([VentId, KeyId, ValveId]),
  action: z.enum(['opens', 'closes', 'holds', 'presses', 'raises', 'engages']),
  link: LinkId.optional(),
  when: z.strictObject({ link: LinkId, engaged: z.boolean() }).optional(),
});
export type Motion = z.infer<typeof Motion>;

export const Vent = z.strictObject({
  id: VentId,
  name: Text,
  alsoCalled: z.array(Text),
  /**
   * What shuts it: a pad (if nothing is said) or the fingertip itself. A hole under a finger rests open; only a half hole, a
   * register vent in the middle of a plate or of a larger hole, rests closed: the finger covers it until it rolls away.
   */
  cover: z.enum(['pad', 'finger']).optional(),
  rest: z.enum(['open', 'closed']),
  /**
   * The note of the low register that sounds when this is the highest open hole; null for a vent that only changes the
   * register. A register vent with a note is the hole of that note for the first-register fingerings that open it.
   */
  note: NoteName.nullable(),
  /** Radius of the hole in millimetres, where leaks are weighed by it. */
  holeRadius: z.number().positive().optional(),
  registerVent: z.strictObject({ loss: Loss, source: Source }).optional(),
  /** Water that runs down the bore gathers in it and hinders the notes that vent by it. */
  gathersWater: z.boolean().optional(),
  /** What its own spring does to it; of no account for a hole that the finger covers. */
  spring: z.enum(['opens', 'closes']),
  presence: Presence,
  source: Source,
  remark: Text.optional(),
});
export type Vent = z.infer<typeof Vent>;

/** Other names of a part, as people say them. */
const AlsoCalled = z.array(Text).optional();

export const Touch = z.strictObject({
  id: TouchId,
  name: Text,
  alsoCalled: AlsoCalled,
  hand: z.enum(['left', 'right']),
  finger: z.enum(['thumb', 'index', 'middle', 'ring', 'little']),
  part: z.enum(['palm', 'side']).optional(),
  moves: z.array(Motion).min(1),
  source: Source,
  remark: Text.optional(),
});
export type Touch = z.infer<typeof Touch>;

export const Key = z.strictObject({
  id: KeyId,
  name: Text,
  alsoCalled: AlsoCalled,
  moves: z.array(Motion).min(1),
  /** Has a spring of its own that brings it back to rest; with that spring off the key behaves as if it were worked. */
  hasSpring: z.boolean(),
  /** A lock: it stays where it is put, so it can be left on when nobody means it to be. */
  stays: z.boolean().optional(),
  source: Source,
  remark: Text.optional(),
});
export type Key = z.infer<typeof Key>;

export const Link = z.strictObject({
  id: LinkId,
  name: Text,
  alsoCalled: AlsoCalled,
  action: z.enum(['closes', 'holds', 'opens', 'raises', 'switches']),
  /** Only for a link that switches: the touches or keys that throw the switch. The motions it steers name it in `when`. */
  drivenBy: z.array(z.union([TouchId, KeyId])).optional(),
  adjuster: z.strictObject({
    kind: z.enum(['screw', 'cork', 'tab', 'ring']),
    text: Text,
    lookAlike: LinkId.optional(),
  }),
  presence: Presence,
  work: z.enum(['director', 'bench']),
  slack: z.strictObject({ title: Text }),
  tight: z.strictObject({ title: Text }),
  source: Source,
  remark: Text.optional(),
});
export type Link = z.infer<typeof Link>;

export const Joint = z.strictObject({
  id: partId('joint'),
  name: Text,
  alsoCalled: AlsoCalled,
  /** Loss that a leak of strength 1 at this joint causes; brass, which has no such figures, leaves it out. */
  loss: Loss.optional(),
  /** Comes apart when the instrument is packed away, so on brass it can stick. */
  comesApart: z.boolean().optional(),
  source: Source,
  remark: Text.optional(),
});
export type Joint = z.infer<typeof Joint>;

export const Bore = z.strictObject({
  id: partId('bore'),
  name: Text,
  alsoCalled: AlsoCalled,
  /** The last vent above this stretch: notes whose air column reaches past it are hindered. Left out on brass: all are. */
  after: VentId.optional(),
  gathersWater: z.boolean(),
  source: Source,
  remark: Text.optional(),
});
export type Bore = z.infer<typeof Bore>;

export const Degree = z.enum(['none', 'slight', 'clear', 'severe']);
export type Degree = z.infer<typeof Degree>;

export const Cause = z.strictObject({
  id: partId('setup|player'),
  name: Text,
  alsoCalled: AlsoCalled,
  group: z.enum(['set-up', 'player']),
  /** Written notes from–to (both included) and how much they suffer when the cause is moderate. */
  effects: z
    .array(
      z.strictObject({
        from: NoteName,
        to: NoteName,
        degree: z.enum(['slight', 'clear', 'severe']),
        octaveUp: z.boolean().optional(),
      }),
    )
    .min(1),
  source: Source,
  remark: Text.optional(),
});
export type Cause = z.infer<typeof Cause>;

/** The clefs that band parts are written in. */
export const Clef = z.enum(['treble', 'bass', 'alto', 'tenor']);
export type Clef = z.infer<typeof Clef>;

export const MechanismFile = z.strictObject({
  instrument: z.strictObject({
    id: z.string().regex(/^[a-z0-9-]+$/),
    name: Text,
    /** What to look for, to tell it from its sisters: shown where somebody chooses an instrument. */
    lookFor: Text.optional(),
    /** The id of a file in flows/families/. */
    family: z.string().regex(/^[a-z0-9-]+$/, 'the id of a family, for example saxophone'),
    /**
     * The shape of the air column: a cone, or a cylinder open at the top (flutes) or closed by a reed (clarinets). Brass is told
     * as a cone: mouthpiece and bell bring its resonances to the whole harmonic series.
     */
    acoustics: z.enum(['cone', 'open-cylinder', 'closed-cylinder']),
    // Editions that were kept before the clef was told hold instruments in the treble clef only.
    clef: Clef.default('treble'),
    transposition: z.strictObject({ semitones: z.number().int(), sounds: Text }),
    range: z.strictObject({ lowest: NoteName, highest: NoteName }),
    source: Source,
  }),
  /** A brass instrument has a tube and no cups; every other one has cups and no tube. */
  tube: TubeFile.optional(),
  vents: z.array(Vent).default([]),
  touches: z.array(Touch).default([]),
  keys: z.array(Key).default([]),
  links: z.array(Link).default([]),
  joints: z.array(Joint),
  bores: z.array(Bore),
  causes: z.array(Cause),
});
export type MechanismFile = z.infer<typeof MechanismFile>;

const Register = z.union([z.literal(1), z.literal(2), z.literal(3)]);

/** A fingering as it stands in the file. */
export const FingeringEntry = z.strictObject({
  id: FingeringId,
  note: NoteName,
  kind: z.enum(['standard', 'alternate', 'test']),
  /**
   * 1 the low register, 2 the next (an octave up, on a clarinet a twelfth), 3 a fingering whose note no single hole sets. Left
   * out on brass, where the partial tells it: its octave in the harmonic series.
   */
  register: Register.optional(),
  touches: z.array(TouchId),
  /** Where the slide that is drawn in playing stands; 1 is all the way in. */
  position: z.number().int().min(1).max(7).optional(),
  name: Text.optional(),
  remark: Text.optional(),
  source: Source,
});
export type FingeringEntry = z.infer<typeof FingeringEntry>;
/** A fingering of an instrument: its register is always known. */
export type Fingering = Omit<FingeringEntry, 'register'> & { readonly register: z.infer<typeof Register> };

export const FingeringsFile = z.strictObject({
  fingerings: z.array(FingeringEntry).min(1),
  playTest: z.strictObject({ order: z.array(FingeringId).min(1), source: Source }),
});
export type FingeringsFile = z.infer<typeof FingeringsFile>;

/** flows/sources.yaml: where the facts come from. `read` says how much of it could be read. */
export const SourcesFile = z.strictObject({
  sources: z.array(
    z.strictObject({
      id: Text,
      author: Text,
      title: Text,
      year: z.number().int().optional(),
      address: Text,
      read: Text.optional(),
    }),
  ),
});
export type SourcesFile = z.infer<typeof SourcesFile>;

export type Severity = 'slight' | 'moderate' | 'gross';
export const FaultKind = z.enum([
  'slack',
  'tight',
  'leaks',
  'uncovered',
  'sticks',
  'spring-off',
  'held-open',
  'bent',
  'pad-lost',
  'opens-too-little',
  'blocked',
  'left-on',
  'loose',
  'object',
  'water',
  'sluggish',
  'seized',
  'spring-broken',
  'linkage-off',
  'up-stop',
  'down-stop',
  'turned',
  'swapped',
  'stuck',
  'dented',
  'holed',
  'drips',
  'hangs-open',
  'set-up',
  'player',
]);
export type FaultKind = z.infer<typeof FaultKind>;

/** One thing that can be wrong: a kind at a place. `id` is `<kind>@<place>`. */
export type Fault = { readonly id: string; readonly kind: FaultKind; readonly place: string };
export type PlacedFault = { readonly fault: Fault; readonly severity: Severity };
