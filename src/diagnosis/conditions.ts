/** How the person who plays is today: fit, or short of the low or of the high notes, whatever the instrument is like. */
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

/** Whether a note lies where somebody in each condition falls short; never for the fit. @param fingered MIDI number. */
export function shortfalls(
  { instrument: { range }, knowledge }: DiagnosisModel,
  fingered: number,
): boolean[] {
  const weak = knowledge.people.player.conditions.map(({ end, semitones }) =>
    end === 'low' ? fingered < midi(range.lowest) + semitones : fingered > midi(range.highest) - semitones,
  );
  return [false, ...weak];
}
