/** How each valve comes to stand for a fingering under faults, and how freely the air then passes it. */
import type { PlacedFault } from './schema.ts';
import type { Tube, TubePlan } from './tube.ts';

/** Per valve: whether it really is down; and how much the air is hindered at all of them together, 0 not at all to 3. */
export type ValveState = { readonly down: readonly boolean[]; readonly hindrance: number };

/** Hindrance by severity where the openings do not quite meet: the sound is veiled and never goes altogether. */
const ASIDE = { slight: 1, moderate: 2, gross: 2 } as const;
/** An opening turned to the wall. */
const BLOCKED = 3;

/**
 * Where the valves come to stand.
 *
 * - A seized valve, and a rotor whose string or linkage is off, stays up; one with a broken spring stays down once it has been
 *   pressed, and so does a very sluggish one. One that is less sluggish has not quite come up: the openings do not meet.
 * - With the stop of one end worn, the openings do not meet at that end.
 * - A piston turned in its casing is blocked while it is up, and at its grossest in both places.
 * - Two exchanged pistons block unless both are down, since only then do both send the air through their loops. Derived; on
 *   many makes they block even then.
 */
export function settleValves(tube: Tube, plan: TubePlan, faults: readonly PlacedFault[]): ValveState {
  const down = [...plan.down];
  for (const { fault, severity } of faults) {
    const at = tube.places.get(fault.place);
    if (at?.sort !== 'valve') continue;
    if (fault.kind === 'seized' || fault.kind === 'linkage-off') down[at.index] = false;
    if (fault.kind === 'spring-broken' || (fault.kind === 'sluggish' && severity === 'gross'))
      down[at.index] = true;
  }
  return { down, hindrance: Math.max(0, ...faults.map((placed) => hindranceOf(tube, down, placed))) };
}

/** How much one fault at a valve or a pair of valves hinders the air, 0 to 3. */
function hindranceOf(tube: Tube, down: readonly boolean[], { fault, severity }: PlacedFault): number {
  const at = tube.places.get(fault.place);
  if (at?.sort === 'pair') return tube.pairs[at.index]!.valves.every((valve) => down[valve]) ? 0 : BLOCKED;
  if (at?.sort !== 'valve') return 0;
  const isDown = down[at.index] === true;
  switch (fault.kind) {
    case 'sluggish':
    case 'up-stop':
      return isDown ? 0 : ASIDE[severity];
    case 'down-stop':
      return isDown ? ASIDE[severity] : 0;
    case 'turned':
      return isDown && severity !== 'gross' ? 0 : BLOCKED;
    default:
      return 0;
  }
}
