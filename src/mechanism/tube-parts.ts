import type { FingeringEntry } from './schema.ts';
import type { SharedPart } from './shared-parts.ts';
import { isPassed } from './tube.ts';
import { type TubeWorkings, tubePlanOf } from './tube-effect.ts';

/** What a fingering uses on a sound brass instrument: its valves, down or up, and the tubing and water keys that its air passes. */
export function partsOnTube(workings: TubeWorkings, fingering: FingeringEntry): SharedPart[] {
  const { tube } = workings;
  const { down } = tubePlanOf(workings, fingering);
  return [
    ...tube.valves.map(({ id }, index) => ({
      part: id,
      sort: 'valve' as const,
      relation: down[index] === true ? ('needs-down' as const) : ('needs-up' as const),
    })),
    ...tube.slides
      .filter((_, index) => isPassed(tube, index, down))
      .map(({ id }) => ({ part: id, sort: 'slide' as const, relation: 'passes' as const })),
    ...tube.waterKeys
      .filter((_, index) => isPassed(tube, tube.waterKeySlides[index]!, down))
      .map(({ id }) => ({ part: id, sort: 'water-key' as const, relation: 'passes' as const })),
  ];
}
