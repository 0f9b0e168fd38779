/** What is held to be the matter, against the truth. */
import { type Belief, type DiagnosisModel, suspects } from '../../../../src/diagnosis/index.ts';
import type { Truth } from '../simulator/case.ts';

export const HEALTHY_ID = 'healthy';
export const UNLISTED_ID = 'something-else';

export type Guess = {
  /** The likeliest first, at most three: ids of faults, or `healthy`, or `something-else`. */
  readonly first: readonly string[];
  /** The chance that is stated for the first of them: of being there at all. */
  readonly chance: number;
  /** Share of the posterior that the truth has: of the likelier of two faults. */
  readonly truthChance: number;
};

/** What counts as the truth: the faults, or that there is none, or that it is in no list. */
export function truthIds({ faults, unlisted }: Truth): string[] {
  if (unlisted !== null) return [UNLISTED_ID];
  return faults.length === 0 ? [HEALTHY_ID] : faults.map(({ fault }) => fault.id);
}

/** The guess that a belief comes to. */
export function guessOf(model: DiagnosisModel, belief: Belief, truth: readonly string[]): Guess {
  const { faults, healthy, somethingElse } = suspects(model, belief);
  const all = [
    ...faults.map(({ fault, probability, present }) => ({ id: fault, share: probability, chance: present })),
    { id: HEALTHY_ID, share: healthy, chance: healthy },
    { id: UNLISTED_ID, share: somethingElse, chance: somethingElse },
  ].sort((one, other) => other.share - one.share);
  return {
    first: all.slice(0, 3).map(({ id }) => id),
    chance: Math.min(1, all[0]!.chance),
    truthChance: Math.max(0, ...all.filter(({ id }) => truth.includes(id)).map(({ chance }) => chance)),
  };
}

/** Whether one of the first so many is true. */
export function isAmong({ first }: Guess, truth: readonly string[], count: number): boolean {
  return first.slice(0, count).some((id) => truth.includes(id));
}
