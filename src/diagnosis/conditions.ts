/** How the person who plays is today: fit, short of the low or of the high notes, or uneven, whatever the instrument is like. */
import { midi } from '../mechanism/index.ts';
import type { DiagnosisModel } from './model.ts';
import type { ShortDegree } from './people-schema.ts';
import type { Person } from './schema.ts';

/** Number of the condition of somebody who can play everything. */
export const FIT = 0;

/** Chances of the conditions before anything is played: fit, then as people.yaml lists them. */
export function conditionChances({ knowledge }: DiagnosisModel, person: Person): number[] {
  const weak = knowledge.people.player.conditions.map(({ chances }) => chances[person]);
  return [1 - weak.reduce((sum, chance) => sum + chance, 0), ...weak];
}

/** How a note fails somebody: this share of the times, and then it answers as if it were disturbed at least so much. */
export type Shortfall = { readonly share: number; readonly degree: ShortDegree };

const NONE: Shortfall = { share: 0, degree: 'clear' };

/**
 * By condition: how a note fails somebody in it, whatever the instrument is like; a share of nothing for the fit, and for
 * notes that do not lie where they fall short. @param fingered MIDI number.
 */
export function shortfalls(
  { instrument: { range }, knowledge }: DiagnosisModel,
  fingered: number,
): Shortfall[] {
  const weak = knowledge.people.player.conditions.map((condition) => {
    if (condition.end === 'all') return { share: condition.share, degree: condition.degree };
    const isThere =
      condition.end === 'low'
        ? fingered < midi(range.lowest) + condition.semitones
        : fingered > midi(range.highest) - condition.semitones;
    return isThere ? { share: 1, degree: 'clear' as const } : NONE;
  });
  return [NONE, ...weak];
}
