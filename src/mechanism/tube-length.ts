/**
 * What a tube sounds: partial n of the harmonic series lies 1200 log2(n) cents above the first, and a tube that is longer by
 * the factor 2^(s/12) sounds s semitones lower (equal temperament, ISO 16:1975).
 */

/** The highest partial that a fingering may use. */
const HIGHEST_PARTIAL = 16;
/**
 * A partial that lies farther from equal temperament than this, in cents, stands for no note: the 7th (-31), 11th (-49), 13th
 * (+41) and 14th (-31) are left out of the usual charts, the 5th (-14) is not. Common practice, no source.
 */
const USED_WITHIN = 20;

/** How far partial `n` lies above the first, in cents. */
export function centsOfPartial(n: number): number {
  return 1200 * Math.log2(n);
}

/** How far the note nearest to partial `n` lies above the first, in semitones; also for one that no chart uses. */
export function semitonesOfPartial(n: number): number {
  return Math.round(centsOfPartial(n) / 100);
}

/** The semitones of each partial that stands for a note, by partial; the first partial lies at 0. */
const SEMITONES: ReadonlyMap<number, number> = new Map(
  Array.from({ length: HIGHEST_PARTIAL }, (_, index) => index + 1).flatMap((partial) => {
    const semitones = semitonesOfPartial(partial);
    const off = centsOfPartial(partial) - 100 * semitones;
    return Math.abs(off) <= USED_WITHIN ? [[partial, semitones] as const] : [];
  }),
);

const PARTIALS: ReadonlyMap<number, number> = new Map(
  [...SEMITONES].map(([partial, semitones]) => [semitones, partial]),
);

/** The partial that stands for the note so many semitones above the first; null where none does. */
export function partialAt(semitones: number): number | null {
  return PARTIALS.get(semitones) ?? null;
}

/** How far partial `n` lies from the note that it stands for, in cents: above 0 it is sharp. */
export function tuningOfPartial(n: number): number {
  return centsOfPartial(n) - 100 * semitonesOfPartial(n);
}

/**
 * How much too sharp several valves together are, in cents. Each loop lengthens the tube by the share that lowers the open tube
 * by its own semitones; together they add up to less than the sum of semitones asks for.
 * @param loops semitones by which each loop alone lowers.
 */
export function sharpnessOfLoops(loops: readonly number[]): number {
  const length = loops.reduce((sum, semitones) => sum + (2 ** (semitones / 12) - 1), 1);
  const wanted = loops.reduce((sum, semitones) => sum + semitones, 0);
  return 100 * wanted - 1200 * Math.log2(length);
}
