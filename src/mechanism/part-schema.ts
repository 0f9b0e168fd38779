import { z } from 'zod';

/** Marks that stand where a published source would: a fact of the trade, a figure of ours, a computed one. */
export const SOURCE_MARKS = ['common practice, no source', 'estimate', 'derived'] as const;

/** Where a fact comes from: entries of flows/sources.yaml or one of the marks. */
export const Source = z
  .array(
    z.union([
      z.enum(SOURCE_MARKS),
      z.string().regex(/^[a-z0-9-]+$/, 'the id of an entry of flows/sources.yaml'),
    ]),
  )
  .min(1);

export const Text = z.string().min(1);

/** The schema of the ids of one sort of part. @param prefix what they begin with; several are parted by `|`. */
export function partId(prefix: string) {
  return z
    .string()
    .regex(
      new RegExp(`^(?:${prefix})\\.[A-Za-z0-9-]+$`),
      `an id of the form ${prefix.replaceAll('|', '.… or ')}.…`,
    );
}

/** A part that all, most or some instruments of the kind have. */
export const Presence = z.enum(['all', 'most', 'some']);
