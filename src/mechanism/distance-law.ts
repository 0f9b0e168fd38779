/**
 * How much a leak disturbs a note, from one number: d, the semitones from the low-register note that the air column
 * gives up to the note that vents at the leak.
 *
 * Loss of resonance m = 20 log10 [1 + K s sin²(m π u)] decibels, u = 2^(-(d + e) / 12), s the strength of the leak (1 =
 * medium). Several leaks add inside the bracket. K and e are fitted to a transmission-line model of a cone with tone
 * holes (r.m.s. error 0.6 and 0.7 dB over 184 cups and notes); the model follows Keefe (J. Acoust. Soc. Am. 75, 1984),
 * Lefebvre & Scavone (J. Acoust. Soc. Am. 131, 2012) and Dalmont & Nederveen (J. Sound Vib. 244, 2001). Good for order
 * and class, not for decibels: use it only through {@link degreeOf}.
 */
const MODES = [
  { mode: 1, gain: 2.74, shift: 0.26 },
  { mode: 2, gain: 1.32, shift: 0.76 },
] as const;

const LOWEST_DISTANCE = -24;
const HIGHEST_DISTANCE = 48;

const tables = MODES.map(({ mode, gain, shift }) =>
  Float64Array.from({ length: HIGHEST_DISTANCE - LOWEST_DISTANCE + 1 }, (_, index) => {
    const u = 2 ** (-(index + LOWEST_DISTANCE + shift) / 12);
    return gain * Math.sin(mode * Math.PI * u) ** 2;
  }),
) as [Float64Array, Float64Array];

/**
 * What a leak of strength 1 adds to the bracket of the law.
 * @param mode 1 or 2, the resonance. @param distance semitones up to the leak's note, -24 to 48.
 */
export function leakWeight(mode: 1 | 2, distance: number): number {
  return tables[mode - 1]![distance - LOWEST_DISTANCE]!;
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
/** The second resonance gaining this much on the first makes the note favour the octave (5 dB). */
const OCTAVE_RATIO = 1 + weightOfLoss(5);

/** The class of a disturbance: 0 none (< 1 dB), 1 slight (< 3 dB), 2 clear (< 8 dB), 3 severe. */
export function degreeOf(weight: number): 0 | 1 | 2 | 3 {
  if (weight < SLIGHT) return 0;
  if (weight < CLEAR) return 1;
  return weight < SEVERE ? 2 : 3;
}

/** Whether the second resonance gains so much on the first that the note tends to jump an octave. */
export function favoursOctave(firstWeight: number, secondWeight: number): boolean {
  return 1 + firstWeight >= OCTAVE_RATIO * (1 + secondWeight);
}
