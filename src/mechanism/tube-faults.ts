import type { FaultKind, MechanismFile } from './schema.ts';
import { pairsOf } from './tube.ts';
import type { TubeFile } from './tube-schema.ts';

/** A place and the kinds of fault that can be there. */
export type FaultsAt = { readonly place: string; readonly kinds: readonly FaultKind[] };

/**
 * What can happen to a brass tube, by general rule: a valve can be sluggish or seized, lose its spring or one of the two stops
 * that end its travel; a piston can also be turned in its casing, and two can be exchanged; a rotor can lose its string or
 * linkage. A slide can gather water, be dented, loose or stuck; the one that is drawn in playing is never stuck, it runs badly.
 * A water key can drip or hang open. Fixed tubing can be dented, eaten through or blocked; a joint can be loose, and stuck
 * where it comes apart.
 */
export function faultsOfTube(tube: TubeFile, { joints, bores }: MechanismFile): FaultsAt[] {
  return [
    ...tube.valves.map(({ id, sort }) => ({
      place: id,
      kinds: [
        'sluggish',
        'seized',
        'spring-broken',
        'up-stop',
        'down-stop',
        sort === 'piston' ? 'turned' : 'linkage-off',
      ] as const,
    })),
    ...pairsOf(tube).map(({ id }) => ({ place: id, kinds: ['swapped'] as const })),
    ...tube.slides.map(({ id, positions }) => ({
      place: id,
      kinds:
        positions === undefined
          ? (['water', 'dented', 'loose', 'stuck'] as const)
          : (['water', 'dented', 'sluggish'] as const),
    })),
    ...tube.waterKeys.map(({ id }) => ({ place: id, kinds: ['drips', 'hangs-open'] as const })),
    ...bores.map(({ id }) => ({ place: id, kinds: ['object', 'dented', 'holed'] as const })),
    ...joints.map(({ id, comesApart = false }) => ({
      place: id,
      kinds: comesApart ? (['loose', 'stuck'] as const) : (['loose'] as const),
    })),
  ];
}
