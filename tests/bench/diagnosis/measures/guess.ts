/** What is held to be the matter, against the truth. */
import {
  type Belief,
  type DiagnosisModel,
  obstacleTo,
  type Situation,
  suspects,
  treatmentOf,
} from '../../../../src/diagnosis/index.ts';
import type { Case, Truth } from '../simulator/case.ts';

export const HEALTHY_ID = 'healthy';
export const UNLISTED_ID = 'something-else';

export type Guess = {
  /** The likeliest first, at most three: ids of faults, or `healthy`, or `something-else`. */
  readonly first: readonly string[];
  /** The chance that is stated for the first of them: of being there at all. */
  readonly chance: number;
  /** Share of the posterior that the truth has: of the likelier of two faults. */
  readonly truthChance: number;
  /** What would be done if the first of them were the truth. */
  readonly deed: string;
};

/** What counts as the truth: the faults, or that there is none, or that it is in no list. */
export function truthIds({ faults, unlisted }: Truth): string[] {
  if (unlisted !== null) return [UNLISTED_ID];
  return faults.length === 0 ? [HEALTHY_ID] : faults.map(({ fault }) => fault.id);
}

/**
 * What this person would be told to do if this were the matter: to leave it, to take it to the bench, or a treatment, at its
 * part. What goes on the instrument and the player are treated whole, so there the part makes no difference.
 * @param id as in {@link Guess}.
 */
export function deedFor(model: DiagnosisModel, id: string | undefined, situation: Situation): string {
  if (id === HEALTHY_ID) return 'leave';
  const fault = id === undefined ? undefined : model.hypotheses.faultNumber.get(id);
  if (fault === undefined || obstacleTo(model, fault, situation, []) !== null) return 'bench';
  const { procedure, direction } = treatmentOf(model, fault)!;
  const { place } = model.hypotheses.faults[fault]!;
  const part = model.instrument.part(place).sort === 'cause' ? '' : place;
  return [procedure, direction ?? '', part].join(' ');
}

/** The guess that a belief comes to. */
export function guessOf(model: DiagnosisModel, belief: Belief, { truth, situation }: Case): Guess {
  const ids = truthIds(truth);
  const { faults, healthy, somethingElse } = suspects(model, belief);
  const all = [
    ...faults.map(({ fault, probability, present }) => ({ id: fault, share: probability, chance: present })),
    { id: HEALTHY_ID, share: healthy, chance: healthy },
    { id: UNLISTED_ID, share: somethingElse, chance: somethingElse },
  ].sort((one, other) => other.share - one.share);
  return {
    first: all.slice(0, 3).map(({ id }) => id),
    chance: Math.min(1, all[0]!.chance),
    truthChance: Math.max(0, ...all.filter(({ id }) => ids.includes(id)).map(({ chance }) => chance)),
    deed: deedFor(model, all[0]!.id, situation),
  };
}

/** Whether one of the first so many is true. */
export function isAmong({ first }: Guess, truth: readonly string[], count: number): boolean {
  return first.slice(0, count).some((id) => truth.includes(id));
}
