/** Families of instruments: what is said otherwise because other things go into the mouth, or are put together otherwise. */
import { z } from 'zod';

const Text = z.string().trim().min(1, 'write a text here');
const Id = z
  .string()
  .regex(
    /^[a-z0-9]+(?:-[a-z0-9]+)*$/,
    'an id is lower-case words joined by hyphens, for example french-horn',
  );
const WordName = z
  .string()
  .regex(/^[a-z][A-Za-z0-9]*$/, 'the name of a blank is one word, for example readyTitle');

/** flows/families/<family>.yaml */
export const FamilyFile = z.strictObject({
  family: Id,
  /** As the choice of an instrument shows it. */
  name: Text,
  /** Its place in that choice, the lowest first. */
  order: z.number(),
  /** How somebody who does not know instruments knows one of this family. */
  lookFor: Text,
  /** Cautions of the whole family, for the page that announces them. */
  cautions: z.array(Id).default([]),
  /** What stands in the blanks of charts, checks, outcomes and cautions, by name. */
  words: z.record(WordName, Text),
  source: z.array(z.string().min(1)).min(1),
});
export type Family = z.infer<typeof FamilyFile>;

/** The names of all blanks that some family fills. */
export function blanksOf(families: Iterable<Family>): string[] {
  return [...new Set([...families].flatMap(({ words }) => Object.keys(words)))];
}
