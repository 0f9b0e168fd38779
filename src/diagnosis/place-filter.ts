import { z } from 'zod';

/** The id of a part, as filters and frequencies name it. */
export const PlaceId = z
  .string()
  .regex(/^[a-z-]+\.[A-Za-z0-9-]+$/, 'the id of a part, for example cup.gsharp');

/** Which parts a check or a treatment is about; every condition given must hold. */
export const PlaceFilter = z.strictObject({
  part: z.enum([
    'vent',
    'link',
    'joint',
    'bore',
    'cause',
    'key',
    'valve',
    'slide',
    'water-key',
    'pair',
    'fingering',
    'instrument',
  ]),
  /** Of a valve. */
  sort: z.enum(['piston', 'rotor']).optional(),
  /** Of a slide: drawn in playing, or only for tuning and cleaning. */
  isPlayed: z.boolean().optional(),
  /** Only on instruments of these families. */
  families: z.array(z.string().min(1)).min(1).optional(),
  rest: z.enum(['open', 'closed']).optional(),
  action: z.array(z.enum(['closes', 'holds', 'opens', 'raises', 'switches'])).optional(),
  adjuster: z.array(z.enum(['screw', 'cork', 'tab', 'ring'])).optional(),
  work: z.enum(['director', 'bench']).optional(),
  isRegisterVent: z.boolean().optional(),
  cover: z.enum(['pad', 'finger']).optional(),
  gathersWater: z.boolean().optional(),
  /** Of causes: what goes on the instrument, or who plays it. */
  group: z.enum(['set-up', 'player']).optional(),
  ids: z.array(PlaceId).optional(),
});
export type PlaceFilter = z.infer<typeof PlaceFilter>;
