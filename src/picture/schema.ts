import { z } from 'zod';

const Point = z.tuple([z.number(), z.number()]);
const Size = z.tuple([z.number().positive(), z.number().positive()]);
const Arms = z.array(z.array(Point).min(2));

/** A place in the picture of the two hands, as the person who holds the instrument meets it. */
const FingerPlace = z.strictObject({ at: Point, size: Size });

const VentPlace = z.strictObject({
  at: Point,
  size: z.number().positive(),
  /** A padded cup, if nothing is said, or an open hole that a finger covers. */
  look: z.enum(['cup', 'hole']).optional(),
  /** Lies behind the instrument, so it is drawn dashed. */
  hidden: z.boolean().optional(),
  arms: Arms.optional(),
});

const TouchPlace = z.strictObject({
  at: Point,
  size: Size,
  /** Written on or beside the touch when it is pressed. */
  label: z.string().min(1).max(8),
  /** Lies behind the instrument, so it is drawn dashed. */
  hidden: z.boolean().optional(),
  finger: FingerPlace,
  arms: Arms.optional(),
});
export type TouchPlace = z.infer<typeof TouchPlace>;

const Station = z.tuple([z.number(), z.number(), z.number().positive()]);

/** The parts of a brass tube. A slide that is drawn in playing moves by `draw` from each position to the next. */
const TubeParts = z.strictObject({
  valves: z.record(z.string(), z.strictObject({ at: Point, size: Size })),
  slides: z.record(z.string(), z.strictObject({ stations: z.array(Station).min(2), draw: Point.optional() })),
  waterKeys: z.record(
    z.string(),
    /** `movesWith`: the slide that takes it along when it is drawn in playing. */
    z.strictObject({ at: Point, size: z.number().positive(), movesWith: z.string().optional() }),
  ),
});

/**
 * layout.yaml: where the parts of one instrument lie in a drawing space of its own (x to the right, y downwards,
 * no unit). Ids are those of the mechanism. `body` gives the bore as stations [x, y, half width] from the mouthpiece
 * to the rim; `arms` are lines of metal that move with a part; `size` of a cup is its diameter.
 */
export const Layout = z.strictObject({
  instrument: z.string().min(1),
  /** One sentence that tells the reader from where the instrument is seen. */
  seen: z.string().min(1),
  space: Size,
  body: z
    .array(
      z.strictObject({
        look: z.enum(['mouthpiece', 'tube']),
        stations: z.array(Station).min(2),
      }),
    )
    .min(1),
  /** The rim of a flared end, seen from above; an instrument without one has none. */
  rim: z.strictObject({ at: Point, size: Size }).optional(),
  tube: TubeParts.optional(),
  vents: z.record(z.string(), VentPlace).default({}),
  touches: z.record(z.string(), TouchPlace),
  keys: z.record(z.string(), z.strictObject({ arms: Arms.min(1) })).default({}),
  links: z.record(z.string(), z.strictObject({ at: Point })).default({}),
  joints: z.record(z.string(), z.strictObject({ at: Point, size: Size })),
  bores: z.record(z.string(), z.strictObject({ from: Point, to: Point })),
  /** Where a set-up cause lies, if not at the mouthpiece. */
  causes: z.record(z.string(), z.strictObject({ at: Point, size: Size })).optional(),
});
export type Layout = z.infer<typeof Layout>;
