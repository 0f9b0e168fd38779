/** The person at every other page: questions about the owner, danger signs, what comes next. */
import type { FlowStep } from '../../../../src/flow/index.ts';
import type { Case } from './case.ts';
import type { Patient } from './patient.ts';
import { DANGER } from './rates.ts';

/**
 * What the person answers at a page that is neither a check nor notes nor part of a procedure.
 * @param fault the one in hand
 */
export function answerPage(the: Case, patient: Patient, step: FlowStep, fault: string | null): string {
  const wanted = wantedAt(the, patient, step.id, fault);
  if (wanted !== null && step.choices.some(({ id }) => id === wanted)) return wanted;
  return (step.choices.find(({ tone }) => tone === 'plain') ?? step.choices[0]!).id;
}

/** Whether the person sees the danger sign that is there, when asked to look for one. */
export function seesDanger({ draws, situation: { person } }: Case): boolean {
  return draws.chance('danger/seen', DANGER.seen[person]);
}

function wantedAt(the: Case, patient: Patient, step: string, fault: string | null): string | null {
  const { draws, situation, truth } = the;
  const { ownerAllows, canPlay } = situation;
  switch (step) {
    case 'owner':
      return draws.pick('owner', ['school', 'family']);
    case 'owner-word':
      return ownerAllows ? 'yes' : 'not-asked';
    case 'danger-look':
      return seesDanger(the) ? truth.danger : 'none';
    case 'ready-mouthpiece':
      return canPlay ? 'done' : 'cannot-play';
    case 'by-hand':
      // The sign of this fault is looked for; another one does not show there.
      return fault !== null && patient.has(fault) ? 'not-right' : 'right';
    case 'needed':
      return 'later';
    default:
      return null;
  }
}
