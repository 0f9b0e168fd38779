import { midi } from './notes.ts';
import type { FingeringsFile, MechanismFile } from './schema.ts';
import { buildTube, isPassed, planOnTube, positionsOf, type Tube } from './tube.ts';
import { sharpnessOfLoops, tuningOfPartial } from './tube-length.ts';
import type { TubeFile } from './tube-schema.ts';

/** A standard fingering may lie so many cents off its note: a little more than all three valves together do. */
const MOST_OFF = 60;

/**
 * Looks for what does not hold together in the tube of a brass instrument.
 * @returns one sentence for each problem, saying what to do; empty when all is well.
 */
export function findBrokenTube(tube: TubeFile, mechanism: MechanismFile, file: FingeringsFile): string[] {
  const broken = [...findBrokenParts(tube, mechanism), ...findStrangeParts(mechanism)];
  return broken.length > 0 ? broken : findBrokenTubeFingerings(tube, mechanism, file);
}

function findBrokenParts(tube: TubeFile, mechanism: MechanismFile): string[] {
  const valves = new Set(tube.valves.map(({ id }) => id));
  const slides = new Set(tube.slides.map(({ id }) => id));
  const pressed = new Set(mechanism.touches.flatMap(({ moves }) => moves.map(({ part }) => part)));
  return [
    ...mechanism.touches.flatMap(({ id, moves }) =>
      moves
        .filter(
          ({ part, action, link, when }) =>
            !valves.has(part) || action !== 'engages' || (link ?? when) !== undefined,
        )
        .map(
          ({ part }) =>
            `${id} moves ${part}: on a brass instrument a touch "engages" a valve, and nothing else.`,
        ),
    ),
    ...[...valves]
      .filter((id) => !pressed.has(id))
      .map((id) => `${id} is engaged by no touch: add one that does.`),
    ...tube.slides.flatMap(({ id, down, up }) =>
      [...down, ...up]
        .filter((valve) => !valves.has(valve))
        .map((valve) => `${id} names ${valve}, which is no valve: correct the id.`),
    ),
    ...tube.waterKeys
      .filter(({ on }) => !slides.has(on))
      .map(({ id, on }) => `${id} stands on ${on}, which is no slide: correct the id.`),
  ];
}

function findStrangeParts({ vents, keys, links }: MechanismFile): string[] {
  return [...vents, ...keys, ...links].map(
    ({ id }) =>
      `${id} stands beside a tube: an instrument has either cups, keys and links or a tube with valves and slides.`,
  );
}

function findBrokenTubeFingerings(
  file: TubeFile,
  mechanism: MechanismFile,
  { fingerings }: FingeringsFile,
): string[] {
  const tube = buildTube(file, mechanism);
  const touches = new Set(mechanism.touches.map(({ id }) => id));
  const positions = positionsOf(tube);
  return fingerings
    .filter((fingering) => fingering.touches.every((touch) => touches.has(touch)))
    .flatMap((fingering) => {
      const { id, note, register, position = 1 } = fingering;
      if (register !== undefined) return [`${id} gives a register: leave it out, the partial tells it.`];
      if (position > positions) return [`${id} is at position ${position}: the slide has ${positions}.`];
      const plan = planOnTube(tube, fingering);
      if (plan.partial === null)
        return [
          `${id} gives no partial that stands for ${note}: correct its touches, its position or its note.`,
        ];
      const off = tuningOf(tube, fingering);
      return Math.abs(off) <= MOST_OFF
        ? []
        : [`${id} lies ${Math.round(off)} cents off ${note}: take another fingering.`];
    });
}

/**
 * How many cents a fingering lies off its note in equal temperament, above 0 sharp: its partial, and the valves together, each
 * loop cut for itself. What a valve at rest adds and a slide drawn in playing are taken to be in tune.
 */
export function tuningOf(tube: Tube, fingering: FingeringsFile['fingerings'][number]): number {
  const plan = planOnTube(tube, fingering);
  const loops = tube.slides
    .filter((_, index) => tube.passages[index]!.down.length > 0 && isPassed(tube, index, plan.down))
    .map(({ lowers }) => lowers);
  const partial = plan.partial;
  if (partial === null) throw new RangeError(`this fingering gives no ${midi(fingering.note)}`);
  return tuningOfPartial(partial) + sharpnessOfLoops(loops);
}
