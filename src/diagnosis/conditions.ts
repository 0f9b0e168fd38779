/** How the person who plays is today: fit, short of the low or of the high notes, or uneven, whatever the instrument is like. */
import { midi } from '../mechanism/index.ts';
import type { DiagnosisModel } from './model.ts';
import type { Person } from './schema.ts';

/** Number of the condition of somebody who can play everything. */
export const FIT = 0;

/** Chances of the conditions before anything is played: fit, then as people.yaml lists them. */
export function conditionChances({ knowledge }: DiagnosisModel, person: Person): number[] {
  const weak = knowledge.people.player.conditions.map(({ chances }) => chances[person]);
  return [1 - weak.reduce((sum, chance) => sum + chance, 0), ...weak];
}

/**
 * By condition: the share of the times that a note fails somebody in it, whatever the instrument is like; nothing for the
 * fit, and for notes that do not lie where they fall short. @param fingered MIDI number.
 */
export function shortfalls({ instrument: { range }, knowledge }: DiagnosisModel, fingered: number): number[] {
  const weak = knowledge.people.player.conditions.map((condition) => {
    if (condition.end === 'all') return condition.share;
    const isThere =
      condition.end === 'low'
        ? fingered < midi(range.lowest) + condition.semitones
        : fingered > midi(range.highest) - condition.semitones;
    return isThere ? 1 : 0;
  });
  return [0, ...weak];
}
