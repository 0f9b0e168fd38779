/**
 * How much a leak disturbs a note, from one number: d, the semitones from the low-register note that the air column
 * gives up to the note that vents at the leak.
 *
 * Loss of resonance m = 20 log10 [1 + K s f(m, u)] decibels, u = 2^(-(d + e) / 12), s the strength of the leak (1 =
 * medium). f is sin²(m π u) for a cone and for a cylinder open at both ends, cos²((2m - 1) π u / 2) for one that a reed
 * closes. Several leaks add inside the bracket. K and e are fitted to a transmission-line model with tone holes (r.m.s.
 * error: cone 0.6 and 0.7 dB over 184 cups and notes, open cylinder 0.5 and 0.7 dB over 127, closed cylinder 0.9 and 0.9 dB
 * over 238); the model follows Keefe (J. Acoust. Soc. Am. 75, 1984), Lefebvre & Scavone (J. Acoust. Soc. Am. 131, 2012)
 * and Dalmont & Nederveen (J. Sound Vib. 244, 2001). Good for order and class, not for decibels: use it only through
 * {@link degreeOf}.
 */
type Law = {
  readonly modes: readonly { readonly mode: 1 | 2; readonly gain: number; readonly shift: number }[];
  readonly shape: (mode: number, place: number) => number;
  /** Semitones from the first register to the second. */
  readonly overblow: number;
  /** Semitones from the first register to the resonances above the second, to the nearest semitone. */
  readonly higher: readonly number[];
  /** Where the strength of a leak grows with its hole: the radius, in millimetres, that counts as 1. */
  readonly unitRadius: number | null;
  /**
   * How many semitones below its first open hole a note still vents: small holes let the air on to the next ones, and a
   * note is dull when one of these is shut. Estimate; the rule itself is published for fork fingerings and cup heights.
   */
  readonly ventsOver: number;
};

const bothOpen = (mode: number, place: number) => Math.sin(mode * Math.PI * place) ** 2;
const oneClosed = (mode: number, place: number) => Math.cos(((2 * mode - 1) * Math.PI * place) / 2) ** 2;

/** Textbook acoustics: a cone and an open cylinder resonate at 1, 2, 3 … times the lowest, a closed one at 1, 3, 5 … */
const resonances = (multiples: readonly number[]) =>
  multiples.map((multiple) => Math.round(12 * Math.log2(multiple)));

const LAWS = {
  cone: {
    modes: [
      { mode: 1, gain: 2.74, shift: 0.26 },
      { mode: 2, gain: 1.32, shift: 0.76 },
    ],
    shape: bothOpen,
    overblow: 12,
    higher: resonances([3, 4, 5, 6]),
    unitRadius: null,
    ventsOver: 0,
  },
  'open-cylinder': {
    modes: [
      { mode: 1, gain: 3.2, shift: 0.69 },
      { mode: 2, gain: 1.62, shift: 0.76 },
    ],
    shape: bothOpen,
    overblow: 12,
    higher: resonances([3, 4, 5, 6]),
    unitRadius: 7,
    ventsOver: 0,
  },
  'closed-cylinder': {
    modes: [
      { mode: 1, gain: 4.5, shift: 1.46 },
      { mode: 2, gain: 1.94, shift: 1.61 },
    ],
    shape: oneClosed,
    overblow: 19,
    higher: resonances([5, 7, 9]),
    unitRadius: 3.5,
    ventsOver: 2,
  },
} as const satisfies Readonly<Record<string, Law>>;

/** The shape of an air column, which decides the law. */
export type Acoustics = keyof typeof LAWS;

const LOWEST_DISTANCE = -24;
const HIGHEST_DISTANCE = 48;

const tables = Object.fromEntries(
  Object.entries(LAWS).map(([acoustics, { modes, shape }]) => [
    acoustics,
    modes.map(({ mode, gain, shift }) =>
      Float64Array.from({ length: HIGHEST_DISTANCE - LOWEST_DISTANCE + 1 }, (_, index) => {
        const place = 2 ** (-(index + LOWEST_DISTANCE + shift) / 12);
        return gain * shape(mode, place);
      }),
    ),
  ]),
) as Record<Acoustics, [Float64Array, Float64Array]>;

/** What leaks of strength 1 add to the bracket of the law, by resonance (first, second) and distance; see {@link leakWeight}. */
export function leakTables(acoustics: Acoustics): readonly [Float64Array, Float64Array] {
  return tables[acoustics];
}

/** The place of a distance in the tables. @param distance semitones up to the leak's note, -24 to 48. */
export function distanceIndex(distance: number): number {
  return distance - LOWEST_DISTANCE;
}

/**
 * What a leak of strength 1 adds to the bracket of the law.
 * @param mode 1 or 2, the resonance. @param distance semitones up to the leak's note, -24 to 48.
 */
export function leakWeight(acoustics: Acoustics, mode: 1 | 2, distance: number): number {
  return tables[acoustics][mode - 1]![distanceIndex(distance)]!;
}

/** How many semitones the second register lies above the first: an octave, or a twelfth where a reed closes a cylinder. */
export function overblowOf(acoustics: Acoustics): number {
  return LAWS[acoustics].overblow;
}

/** How many semitones below its first open hole a note still vents; 0 where the first hole alone lets the air out. */
export function ventsOver(acoustics: Acoustics): number {
  return LAWS[acoustics].ventsOver;
}

/** How many semitones the resonances above the second lie above the first, to the nearest semitone, lowest first. */
export function higherResonancesOf(acoustics: Acoustics): readonly number[] {
  return LAWS[acoustics].higher;
}

/** How much a hole of this radius (millimetres) makes of a leak; 1 where the radius is not known or does not count. */
export function sizeOfHole(acoustics: Acoustics, radius: number | undefined): number {
  const { unitRadius } = LAWS[acoustics];
  return radius === undefined || unitRadius === null ? 1 : radius / unitRadius;
}

/** The bracket that belongs to a loss in decibels, less the 1 it starts from. */
export function weightOfLoss(decibels: number): number {
  return 10 ** (decibels / 20) - 1;
}

/** Loss in decibels of a bracket given without its leading 1. For tests and reports only. */
export function lossOfWeight(weight: number): number {
  return 20 * Math.log10(1 + weight);
}

// Class limits in decibels: 1 (felt at all), 3 and 8. Source: the fit's own classes; the decibel at which a player
// notices has not been published, so these are an estimate that only the order of notes rests on.
const SLIGHT = weightOfLoss(1);
const CLEAR = weightOfLoss(3);
const SEVERE = weightOfLoss(8);
/** The second resonance gaining this much on the first makes the note favour the next register (5 dB). */
const NEXT_REGISTER_RATIO = 1 + weightOfLoss(5);

/** The class of a disturbance: 0 none (< 1 dB), 1 slight (< 3 dB), 2 clear (< 8 dB), 3 severe. */
export function degreeOf(weight: number): 0 | 1 | 2 | 3 {
  if (weight < SLIGHT) return 0;
  if (weight < CLEAR) return 1;
  return weight < SEVERE ? 2 : 3;
}

/** Whether the second resonance gains so much on the first that the note tends to jump to the next register. */
export function favoursNextRegister(firstWeight: number, secondWeight: number): boolean {
  return 1 + firstWeight >= NEXT_REGISTER_RATIO * (1 + secondWeight);
}
