/** How a note answers on a brass tube with these faults, worked out from where the valves stand and what the air passes. */
import { causeDegree, OBJECT, SIZE, WATER } from './fault-state.ts';
import { type CauseEffect, effectsOf } from './machine.ts';
import type { NoteEffect } from './note-effect.ts';
import { Degree, type FingeringEntry, type MechanismFile, type PlacedFault } from './schema.ts';
import { isPassed, loweringOf, planOnTube, type Tube, type TubePlan } from './tube.ts';
import { partialAt } from './tube-length.ts';
import { settleValves } from './valve-state.ts';

/** Up to this partial a leak costs its whole degree, above it one less: low notes suffer most. Common practice, no source. */
const LOW_PARTIALS = 4;
/** Drawn less far than this, a dented playing slide still runs mostly over sound tubing. Estimate. */
const DRAWN_FROM = 3;
/** A wrong note this many semitones off may land on a neighbouring partial instead, so it is not quite clean. Estimate. */
const WIDE = 3;

/** Everything that predictions on a tube need; the plans are kept by fingering. */
export type TubeWorkings = {
  readonly tube: Tube;
  /** Effects of the causes that lie outside the instrument, by their id. */
  readonly causes: ReadonlyMap<string, readonly CauseEffect[]>;
  readonly plans: WeakMap<object, TubePlan>;
};

/** Prepares the predictions of an instrument with a tube. */
export function buildTubeWorkings(tube: Tube, { causes }: Pick<MechanismFile, 'causes'>): TubeWorkings {
  return { tube, causes: new Map(causes.map((cause) => [cause.id, effectsOf(cause)])), plans: new WeakMap() };
}

/** The plan of a fingering, made on first use. @throws RangeError for an unknown touch. */
export function tubePlanOf({ tube, plans }: TubeWorkings, fingering: FingeringEntry): TubePlan {
  const plan = plans.get(fingering) ?? planOnTube(tube, fingering);
  plans.set(fingering, plan);
  return plan;
}

/**
 * How a note answers with these faults.
 *
 * - A valve that stands otherwise than fingered gives the same partial of another length of tube; where that tube has a partial at
 *   the fingered note itself, the player finds it and nothing is heard of the fault.
 * - Valves, slides and water keys trouble the notes whose air passes them (see settleValves); fixed tubing and joints all notes.
 * @throws RangeError for an unknown touch.
 */
export function predictOnTube(
  workings: TubeWorkings,
  fingering: FingeringEntry,
  faults: readonly PlacedFault[],
): NoteEffect {
  const { tube, causes } = workings;
  const plan = tubePlanOf(workings, fingering);
  const { down, hindrance } = settleValves(tube, plan, faults);
  let degree = hindrance;
  let octaveUp = false;
  for (const { fault, severity } of faults) {
    degree = Math.max(degree, troubleOf(tube, plan, down, { fault, severity }));
    const effects = causes.get(fault.place);
    if (effects === undefined) continue;
    const trouble = causeDegree(effects, plan.note, SIZE[severity]);
    degree = Math.max(degree, trouble.degree);
    octaveUp ||= trouble.octaveUp;
  }
  const lowers = loweringOf(tube, down, plan.position);
  const isFound = partialAt(plan.note - tube.fundamental + lowers) !== null;
  const shift = isFound ? 0 : plan.lowers - lowers;
  if (Math.abs(shift) >= WIDE) degree = Math.max(degree, 1);
  return { degree: Degree.options[degree]!, octaveUp, sounded: shift === 0 ? null : plan.note + shift };
}

/** How much one fault of the tubing troubles a note, 0 none to 3 severe. */
function troubleOf(
  tube: Tube,
  plan: TubePlan,
  down: readonly boolean[],
  { fault, severity }: PlacedFault,
): number {
  const slide = slideOf(tube, fault.place);
  if (slide !== null && !isPassed(tube, slide, down)) return 0;
  switch (fault.kind) {
    case 'water':
      return WATER[severity];
    case 'object':
      return OBJECT[severity];
    case 'dented':
      return SIZE[severity] - (slide !== null && isFarIn(tube, slide, plan) ? 1 : 0);
    case 'loose':
    case 'holed':
    case 'drips':
      return leakDegree(plan, SIZE[severity]);
    case 'hangs-open':
      return leakDegree(plan, SIZE[severity] + 1);
    default:
      return 0;
  }
}

/** The slide that a part is, or that it stands on; null for fixed tubing and joints, which every note passes. */
function slideOf(tube: Tube, place: string): number | null {
  const at = tube.places.get(place);
  if (at?.sort === 'slide') return at.index;
  return at?.sort === 'water-key' ? tube.waterKeySlides[at.index]! : null;
}

/** Whether a slide is one that is drawn in playing, and is not drawn far. */
function isFarIn(tube: Tube, slide: number, { position }: TubePlan): boolean {
  return tube.slides[slide]!.positions !== undefined && position < DRAWN_FROM;
}

/** What a leak of this size makes of a note: every note is weakened, the low ones most. */
function leakDegree({ partial }: TubePlan, size: number): number {
  return Math.min(3, Math.max(1, size - ((partial ?? 1) > LOW_PARTIALS ? 1 : 0)));
}
