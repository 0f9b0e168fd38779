/** What can be wrong, by kind: flows/faults/. */
import { z } from 'zod';
import { FaultKind } from '../mechanism/index.ts';
import { KebabId, Source, Text, Tool } from './people-schema.ts';
import { PlaceFilter } from './place-filter.ts';

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

const Urgency = z.enum(['now', 'this-week', 'next-slot', 'season']);
/** What is told of the fault; it may be told otherwise at some places. */
const telling = { title: Text, means: Text, tellTheBench: Text, job: KebabId, urgency: Urgency };
const Told = z.strictObject({ at: PlaceFilter, ...z.object(telling).partial().shape });

const Confirm = z.array(z.strictObject({ check: KebabId, saw: KebabId, isFallback: z.boolean().optional() }));

const FaultKindEntry = z.strictObject({
  kind: FaultKind,
  ...telling,
  /** One can see the cup or key out of its place, as against a pad that only seals badly. */
  showsAsGap: z.boolean(),
  /** The finding that this fault, and no other, gives: the first that can be had here is asked for. */
  confirm: Confirm.min(1),
  /** What a check made at the very place of the fault shows: check kind to answer. */
  signs: z.record(KebabId, KebabId),
  /** The kind of fault that too much of the same treatment brings about. */
  overdone: FaultKind.optional(),
  treatments: z.array(Treatment),
  /** Where other words or another class of work fit better; the first whose filter fits the place is used. */
  told: z.array(Told).default([]),
  source: Source,
});
export type FaultKindEntry = z.infer<typeof FaultKindEntry>;

/** What instruments of another sort add to a kind of fault that is told elsewhere. */
const Addition = z.strictObject({
  kind: FaultKind,
  confirm: Confirm.default([]),
  signs: z.record(KebabId, KebabId).default({}),
  treatments: z.array(Treatment).default([]),
  told: z.array(Told).default([]),
  source: Source,
});

/** flows/faults.yaml */
export const FaultsFile = z.strictObject({
  kinds: z.array(FaultKindEntry).min(1),
  also: z.array(Addition).optional(),
});
export type FaultsFile = z.infer<typeof FaultsFile>;

/**
 * Every kind of fault with what is added to it. What is added is meant for some instruments and goes before what is meant
 * for all; a finding that also fits other faults stays behind those that do not.
 */
export function foldAdditions({ kinds, also = [] }: FaultsFile): FaultKindEntry[] {
  return kinds.map((entry) => {
    const added = also.filter(({ kind }) => kind === entry.kind);
    const confirm = [...entry.confirm, ...added.flatMap((one) => one.confirm)];
    return {
      ...entry,
      confirm: [
        ...confirm.filter(({ isFallback }) => isFallback !== true),
        ...confirm.filter(({ isFallback }) => isFallback === true),
      ],
      signs: Object.assign({}, entry.signs, ...added.map(({ signs }) => signs)) as FaultKindEntry['signs'],
      treatments: [...added.flatMap(({ treatments }) => treatments), ...entry.treatments],
      told: [...added.flatMap(({ told }) => told), ...entry.told],
    };
  });
}
