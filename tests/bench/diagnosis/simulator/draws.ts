/** Chance that can be repeated: every draw has a name, and its value is a digest of the seed and that name. */
import { createHash } from 'node:crypto';

/**
 * Draws by name. The same seed and name always give the same value, in whatever order they are asked for; that is how a
 * simulated person says the same thing when asked twice.
 */
export type Draws = {
  /** Evenly between 0 and 1. */
  uniform(name: string): number;
  /** Normal with mean 0 and the given standard deviation. */
  normal(name: string, deviation?: number): number;
  /** True this often. */
  chance(name: string, probability: number): boolean;
  /** One of these, by weight. @throws RangeError when no weight is above 0. */
  pick<T>(name: string, options: readonly T[], weight?: (option: T) => number): T;
};

const BYTES = 6;
const SPAN = 2 ** (8 * BYTES);

/** The draws of a seed: the first 48 bits of SHA-256 (FIPS 180-4) of "seed/name". */
export function drawsOf(seed: string | number): Draws {
  const uniform = (name: string) =>
    createHash('sha256').update(`${seed}/${name}`).digest().readUIntBE(0, BYTES) / SPAN;
  return {
    uniform,
    // Box & Muller 1958, Annals of Mathematical Statistics 29:610-611.
    normal: (name, deviation = 1) =>
      deviation *
      Math.sqrt(-2 * Math.log(1 - uniform(`${name}/radius`))) *
      Math.cos(2 * Math.PI * uniform(`${name}/angle`)),
    chance: (name, probability) => uniform(name) < probability,
    pick(name, options, weight = () => 1) {
      const all = options.reduce((sum, option) => sum + weight(option), 0);
      if (!(all > 0)) throw new RangeError(`nothing to pick from for "${name}"`);
      let left = uniform(name) * all;
      for (const option of options) {
        left -= weight(option);
        if (left < 0) return option;
      }
      return options.findLast((option) => weight(option) > 0)!;
    },
  };
}
