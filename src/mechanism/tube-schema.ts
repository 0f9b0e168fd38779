import { z } from 'zod';
import { NoteName } from './notes.ts';
import { Presence, partId, Source, Text } from './part-schema.ts';

export const ValveId = partId('valve');
export const SlideId = partId('slide');

/** A valve: it stands up until its touch is pressed, and sends the air through other tubing while it is down. */
export const Valve = z.strictObject({
  id: ValveId,
  name: Text,
  alsoCalled: z.array(Text).default([]),
  /** A piston goes up and down in a casing; a rotor turns in one, driven by a lever. */
  sort: z.enum(['piston', 'rotor']),
  presence: Presence,
  source: Source,
  remark: Text.optional(),
});
export type Valve = z.infer<typeof Valve>;

/**
 * A piece of tubing that can be drawn. The air goes through it while all the valves of `down` are down and all those of
 * `up` are up (always, where neither names one), and it then lowers the note by `lowers` semitones.
 */
export const Slide = z.strictObject({
  id: SlideId,
  name: Text,
  alsoCalled: z.array(Text).default([]),
  lowers: z.number().int().min(0).max(12),
  down: z.array(ValveId).default([]),
  up: z.array(ValveId).default([]),
  /** Drawn in playing, to so many positions, each a semitone lower than the one before. */
  positions: z.number().int().min(2).max(7).optional(),
  presence: Presence,
  source: Source,
  remark: Text.optional(),
});
export type Slide = z.infer<typeof Slide>;

/** A lever with a cork over a small hole, by which water is let out of a slide. */
export const WaterKey = z.strictObject({
  id: partId('water-key'),
  name: Text,
  alsoCalled: z.array(Text).default([]),
  on: SlideId,
  presence: Presence,
  source: Source,
  remark: Text.optional(),
});
export type WaterKey = z.infer<typeof WaterKey>;

/** The tube of a brass instrument, whose length the valves and slides set. */
export const TubeFile = z.strictObject({
  /**
   * Written name of the first partial of the tube without any of the tubing that `lowers`, whether or not it can be played:
   * mostly that of the open instrument; where a valve at rest adds tubing, that of the shorter side.
   */
  fundamental: NoteName,
  valves: z.array(Valve),
  slides: z.array(Slide).min(1),
  waterKeys: z.array(WaterKey),
  source: Source,
});
export type TubeFile = z.infer<typeof TubeFile>;

/** The lists of parts that a tube has, by the names that they bear in data and in drawings. */
export const TUBE_LISTS = ['valves', 'slides', 'waterKeys'] as const;

/** All parts of a tube, in the order of their lists; none where there is no tube. */
export function partsOfTube(
  tube:
    | { readonly [List in (typeof TUBE_LISTS)[number]]: readonly TubeFile[List][number][] }
    | null
    | undefined,
): (Valve | Slide | WaterKey)[] {
  return TUBE_LISTS.flatMap((list): readonly (Valve | Slide | WaterKey)[] => tube?.[list] ?? []);
}
