/** The four data files that the diagnosis reads, and the shapes that go in and out of it. */
import { z } from 'zod';
import { FaultKind } from '../mechanism/index.ts';
import { Chance, KebabId, PeopleFile, Person, Source, sumsToOne, Text, Tool } from './people-schema.ts';

export { PeopleFile, Person, Tool };

const PlaceId = z.string().regex(/^[a-z]+\.[A-Za-z0-9-]+$/, 'the id of a part, for example cup.gsharp');

/** Which parts a check or a treatment is about; every condition given must hold. */
const PlaceFilter = z.strictObject({
  part: z.enum(['vent', 'link', 'joint', 'bore', 'cause', 'key', 'fingering', 'instrument']),
  rest: z.enum(['open', 'closed']).optional(),
  action: z.array(z.enum(['closes', 'holds', 'opens', 'raises', 'switches'])).optional(),
  adjuster: z.array(z.enum(['screw', 'cork', 'tab', 'ring'])).optional(),
  work: z.enum(['director', 'bench']).optional(),
  isRegisterVent: z.boolean().optional(),
  cover: z.enum(['pad', 'finger']).optional(),
  gathersWater: z.boolean().optional(),
  ids: z.array(PlaceId).optional(),
});
export type PlaceFilter = z.infer<typeof PlaceFilter>;

/** What may be done here about a fault; the first entry whose filter fits the place is used, none means the bench. */
const Treatment = z.strictObject({
  at: PlaceFilter,
  procedure: KebabId,
  /** Which way a screw goes; in brings the two parts closer together. */
  direction: z.enum(['in', 'out']).optional(),
  /** Touches the mechanism with a tool or with force. */
  adjusts: z.boolean(),
  tools: z.array(Tool),
  /** What it costs, in minutes, when this is done although something else was wrong. */
  harmMinutes: z.number().min(0),
  source: Source,
});
export type Treatment = z.infer<typeof Treatment>;

const FaultKindEntry = z.strictObject({
  kind: FaultKind,
  title: Text,
  means: Text,
  tellTheBench: Text,
  /** One can see the cup or key out of its place, as against a pad that only seals badly. */
  showsAsGap: z.boolean(),
  /** The finding that this fault, and no other, gives: the first that can be had here is asked for. */
  confirm: z
    .array(z.strictObject({ check: KebabId, saw: KebabId, isFallback: z.boolean().optional() }))
    .min(1),
  /** What a check made at the very place of the fault shows: check kind to answer. */
  signs: z.record(KebabId, KebabId),
  /** The kind of fault that too much of the same treatment brings about. */
  overdone: FaultKind.optional(),
  treatments: z.array(Treatment),
  job: KebabId,
  urgency: z.enum(['now', 'this-week', 'next-slot', 'season']),
  source: Source,
});
export type FaultKindEntry = z.infer<typeof FaultKindEntry>;

/** flows/faults.yaml */
export const FaultsFile = z.strictObject({ kinds: z.array(FaultKindEntry).min(1) });
export type FaultsFile = z.infer<typeof FaultsFile>;

const Answer = z.strictObject({
  id: KebabId,
  label: Text,
  /** The answer of an instrument without a fault. Exactly one per check. */
  isQuiet: z.boolean().optional(),
});

/** How the answer to a check follows from a hypothesis. Values are answer ids. */
const Rule = z.discriminatedUnion('by', [
  z.strictObject({ by: z.literal('sealing'), leaks: KebabId }),
  z.strictObject({ by: z.literal('pressing'), cured: KebabId }),
  z.strictObject({ by: z.literal('stirring'), stirs: KebabId }),
  z.strictObject({ by: z.literal('landing'), ownFirst: KebabId, targetFirst: KebabId }),
  z.strictObject({ by: z.literal('opening'), little: KebabId, shut: KebabId }),
  z.strictObject({ by: z.literal('rising'), stays: KebabId }),
  z.strictObject({ by: z.literal('squeezing'), cured: KebabId }),
  /** What the fault itself declares; `covers` lets one check stand for the signs at several places. */
  z.strictObject({ by: z.literal('sign'), covers: z.array(PlaceFilter).min(1).optional() }),
  z.strictObject({
    by: z.literal('history'),
    yes: KebabId,
    otherwise: Chance,
    chances: z.array(z.strictObject({ kinds: z.array(FaultKind).min(1), chance: Chance })),
    source: Source,
  }),
]);
export type Rule = z.infer<typeof Rule>;

const CheckKind = z
  .strictObject({
    id: KebabId,
    rule: Rule,
    at: z.array(PlaceFilter).min(1),
    group: z.enum(['set-up', 'look', 'play', 'history']),
    title: Text,
    ask: Text,
    why: Text,
    /** What is asked, for somebody who does not understand it; older editions have none. */
    plainly: Text.optional(),
    answers: z.array(Answer).min(2),
    seconds: z.number().positive(),
    tools: z.array(Tool),
    /** A caller on the telephone, instrument in hand, can be asked to do it. */
    isRemote: z.boolean(),
    /** Taken in where somebody tells it, never asked for. */
    isOnlyTold: z.boolean().optional(),
    sense: KebabId,
    source: Source,
  })
  .refine((kind) => kind.answers.filter((answer) => answer.isQuiet).length === 1, {
    error: 'mark exactly one answer with isQuiet: true (what a good instrument shows)',
    path: ['answers'],
  });
export type CheckKind = z.infer<typeof CheckKind>;

/** flows/checks.yaml */
export const ChecksFile = z.strictObject({
  /** The play-test note asked as a check in its own right. */
  playNote: z.strictObject({
    title: Text,
    ask: Text,
    why: Text,
    plainly: Text.optional(),
    labels: z.strictObject({ speaks: Text, unsteady: Text, wrong: Text, silent: Text }),
    seconds: z.number().positive(),
  }),
  kinds: z.array(CheckKind).min(1),
});
export type ChecksFile = z.infer<typeof ChecksFile>;

const Rate = z.strictObject({ per100: z.number().min(0), source: Source });

/** flows/instruments/<id>/frequencies.yaml */
export const FrequenciesFile = z.strictObject({
  healthy: Rate,
  somethingElse: Rate,
  /** Every fault that no group names, each. */
  unlisted: Rate,
  meanFaults: z.strictObject({ value: z.number().positive(), source: Source }),
  severity: z
    .strictObject({
      shares: z.strictObject({ slight: Chance, moderate: Chance, gross: Chance }),
      source: Source,
    })
    .refine((severity) => sumsToOne(severity.shares), { error: 'the three shares must add up to 1' }),
  /** What is left of a frequency where only most or some instruments have the part. */
  presence: z.strictObject({ all: Chance, most: Chance, some: Chance, source: Source }),
  /** Pairs with a smaller prior than this are left out of the enumeration. */
  rarestPair: z.number().min(0),
  groups: z.array(
    z.strictObject({
      name: Text,
      per100: z.number().positive(),
      spread: z
        .array(
          z.strictObject({
            kinds: z.array(FaultKind).min(1),
            places: z.array(PlaceId).min(1),
            weight: z.number().positive(),
          }),
        )
        .min(1),
      source: Source,
    }),
  ),
});
export type FrequenciesFile = z.infer<typeof FrequenciesFile>;

/** The four files together. */
export type Knowledge = {
  readonly faults: FaultsFile;
  readonly checks: ChecksFile;
  readonly people: PeopleFile;
  readonly frequencies: FrequenciesFile;
};

export const Answered = z.enum(['speaks', 'unsteady', 'wrong', 'silent', 'could-not-tell']);
export type Answered = z.infer<typeof Answered>;

export const NoteFinding = z.strictObject({
  note: Text,
  fingering: Text.optional(),
  answered: Answered,
  sounded: Text.optional(),
});
export type NoteFinding = z.infer<typeof NoteFinding>;
export const CheckFinding = z.strictObject({ check: Text, saw: Text });
export type CheckFinding = z.infer<typeof CheckFinding>;
export const Finding = z.union([NoteFinding, CheckFinding]);
/** One thing observed: a note and how it answered, or a check and what was seen, felt or heard. */
export type Finding = z.infer<typeof Finding>;

export const Situation = z.strictObject({
  person: Person,
  tools: z.array(Tool),
  canPlay: z.boolean(),
  ownerAllows: z.boolean(),
});
export type Situation = z.infer<typeof Situation>;

export const TreatedFault = z.strictObject({ fault: Text, exit: z.enum(['mended', 'unchanged']) });
export type TreatedFault = z.infer<typeof TreatedFault>;
