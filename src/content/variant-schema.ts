/** instruments/<id>/variant.yaml: an instrument told by what differs from another one. */
import { z } from 'zod';
import { FrequenciesFile } from '../diagnosis/index.ts';
import { FingeringEntry, FingeringsFile, MechanismFile, TubeFile } from '../mechanism/index.ts';
import { Layout } from '../picture/index.ts';

const { instrument, vents, touches, keys, links, joints, bores, causes } = MechanismFile.shape;

/** Where a new cup lies in the order in which the air meets the cups. */
const Placed = z.union([
  z.strictObject({ before: z.string(), vent: vents.unwrap().element }),
  z.strictObject({ after: z.string(), vent: vents.unwrap().element }),
]);

/** A new fingering, and after which of the play test it is played; left out, it is no part of the play test. */
const NewFingering = z.strictObject({ playAfter: z.string().optional(), fingering: FingeringEntry });

export const VariantFile = z.strictObject({
  /** The instrument that it is told from, in full or a variant itself. */
  variantOf: z.string().regex(/^[a-z0-9-]+$/, 'the id of an instrument'),
  /**
   * Semitones by which every written note differs from the other instrument's, where the same fingers are read in another way:
   * -12 for an octave lower. The ids of fingerings follow their notes.
   */
  written: z.number().int().optional(),
  /** What of the instrument's own head differs; its id and its name always do. */
  instrument: instrument
    // Left out, the clef is the other instrument's and not the one that a full description stands in.
    .extend({ clef: instrument.shape.clef.unwrap() })
    .partial()
    .required({ id: true, name: true, source: true }),
  /** Parts and fingerings of the other instrument that this one has not; whatever needs them goes with them. */
  without: z.array(z.string().min(1)).optional(),
  /** By id of a part or fingering: the fields that differ. */
  change: z.record(z.string(), z.record(z.string(), z.unknown())).optional(),
  add: z
    .strictObject({
      vents: z.array(Placed),
      touches,
      keys,
      links,
      joints,
      bores,
      causes,
      valves: TubeFile.shape.valves,
      slides: TubeFile.shape.slides,
      waterKeys: TubeFile.shape.waterKeys,
      fingerings: z.array(NewFingering),
    })
    .partial()
    .optional(),
  /** The whole play test, where it is another one. */
  playTest: FingeringsFile.shape.playTest.optional(),
  /** Single figures as they differ; a group takes the place of the group with its name, or is new. */
  frequencies: FrequenciesFile.partial().optional(),
  /** Places as they differ or are new. */
  layout: Layout.omit({ instrument: true }).partial().optional(),
});
export type VariantFile = z.infer<typeof VariantFile>;
