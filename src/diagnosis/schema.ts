/** The four data files that the diagnosis reads, and the shapes that go in and out of it. */
import { z } from 'zod';
import { FaultKind } from '../mechanism/index.ts';
import { type FaultKindEntry, FaultsFile, type Treatment } from './faults-schema.ts';
import { Chance, KebabId, PeopleFile, Person, Source, sumsToOne, Text, Tool } from './people-schema.ts';
import { PlaceFilter, PlaceId } from './place-filter.ts';

export type { FaultKindEntry, Treatment };
export { FaultsFile, PeopleFile, Person, PlaceFilter, Tool };

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

/** What all instruments are diagnosed by, and what is the instrument's own. */
export type Knowledge = {
  readonly faults: FaultsFile;
  readonly checks: ChecksFile;
  readonly people: PeopleFile;
  readonly frequencies: FrequenciesFile;
  /** What the instrument's family puts into the blanks of checks, by name. */
  readonly words?: Readonly<Record<string, string>>;
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
