/** Made-up tones with known pitch and known faults, at 48 kHz unless told otherwise. */

export const sampleRate = 48_000;

type Tone = {
  readonly frequency: number;
  readonly seconds?: number;
  /** Root mean square; 1 is full scale. */
  readonly level?: number;
  readonly rate?: number;
  /** How much the pitch swings to either side, in cents, and how often a second. */
  readonly vibrato?: { readonly cents: number; readonly rate: number };
  /** How far the level swings, as (highest - lowest) / (highest + lowest), and how often a second. */
  readonly beating?: { readonly depth: number; readonly rate: number };
  /** Frequency by time, as a multiple of `frequency`. */
  readonly follow?: (time: number) => number;
  /** How much of the sound is in the register `mode` times as high, by time: 0 to 1. */
  readonly upper?: { readonly mode: number; readonly share: (time: number) => number };
  /** Decibels by which white noise lies below the tone. */
  readonly noise?: number;
};

/** Levels of the harmonics, as of a reed instrument: falling by a fixed step. */
const harmonics = [1, 0.7, 0.5, 0.35, 0.25, 0.18, 0.12, 0.08];

/** Noise that is the same at every run: a linear congruential generator (Numerical Recipes' constants). */
export function makeNoise(seconds: number, level: number, rate = sampleRate): Float32Array {
  let seed = 1;
  return Float32Array.from({ length: Math.round(seconds * rate) }, () => {
    seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
    // Evenly spread over -1 to 1, which has a root mean square of 1 / sqrt(3).
    return level * Math.sqrt(3) * (seed / 2 ** 31 - 1);
  });
}

/** A tone of some harmonics, the phase of each followed so that the pitch may change without a click. */
export function makeTone(tone: Tone): Float32Array {
  const { frequency, seconds = 2, level = 0.1, rate = sampleRate, vibrato, beating, follow, upper } = tone;
  const samples = new Float32Array(Math.round(seconds * rate));
  const scale = level * Math.SQRT2;
  const noise = tone.noise === undefined ? null : makeNoise(seconds, level * 10 ** (-tone.noise / 20), rate);
  let phase = 0;
  for (let at = 0; at < samples.length; at += 1) {
    const time = at / rate;
    const cents = vibrato === undefined ? 0 : vibrato.cents * Math.sin(2 * Math.PI * vibrato.rate * time);
    phase += (frequency * (follow?.(time) ?? 1) * 2 ** (cents / 1200)) / rate;
    const swing = beating === undefined ? 1 : 1 + beating.depth * Math.sin(2 * Math.PI * beating.rate * time);
    const share = upper?.share(time) ?? 0;
    const wave =
      Math.sqrt(1 - share) * sound(phase, frequency, rate) +
      Math.sqrt(share) * sound(phase * (upper?.mode ?? 1), frequency * (upper?.mode ?? 1), rate);
    samples[at] = scale * swing * wave + (noise?.[at] ?? 0);
  }
  return samples;
}

/** One sample of the harmonics below half the sample rate, with a mean square of a half. */
function sound(phase: number, frequency: number, rate: number): number {
  const sounding = harmonics.filter((_, index) => (index + 1) * frequency < rate / 2);
  const power = Math.hypot(...sounding);
  return sounding.reduce(
    (sum, height, index) => sum + (height / power) * Math.sin(2 * Math.PI * (index + 1) * phase),
    0,
  );
}
