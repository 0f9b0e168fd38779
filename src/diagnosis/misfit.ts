/** Whether answers fit together at all. */
import type { Belief } from './belief.ts';
import type { DiagnosisModel } from './model.ts';
import { conflictNats } from './probability.ts';

/** Whether the answers contradict each other whatever is wrong: together they are far less likely than each for itself. */
export function contradicts({ knowledge }: DiagnosisModel, belief: Belief): boolean {
  return conflictNats([belief.logSingles], belief.logEvidence) >= knowledge.people.rules.misfitNats.value;
}
