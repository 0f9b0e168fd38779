/** Walks a run to its end, answering as a person would who has the patient in hand. */
import type { Runs } from '../../src/runs/runs.ts';
import type { StepView } from '../../src/runs/view.ts';
import type { Patient } from './patient.ts';

/** Which choice to take at which step (by the step's id); everywhere else the first plain answer is taken. */
export type Choices = Readonly<Record<string, string | ((visit: number) => string)>>;

export type Walk = { readonly id: string; readonly path: string[]; readonly end: StepView };

let keys = 0;

/** A key that no other answer of this process has. */
export function nextKey(): string {
  keys += 1;
  return `test-key-${keys}`;
}

/**
 * Answers step after step until the outcome.
 *
 * @param patient asked anew at each step, so that a story can mend it on the way
 * @throws if the run has not ended after 150 answers
 */
export async function walkToEnd(
  runs: Runs,
  id: string,
  patient: () => Patient,
  choices: Choices = {},
): Promise<Walk> {
  const path: string[] = [];
  const visits = new Map<string, number>();
  for (let count = 0; count < 150; count += 1) {
    const { step, revision } = await runs.view(id);
    if (step.kind === 'outcome') return { id, path, end: step };
    const waiting = step.notes.find((row) => row.answered === null && row.group === 'first');
    if (step.kind === 'notes' && waiting !== undefined) {
      await runs.answer(id, { revision, key: nextKey(), answer: patient().playNote(waiting.fingering) });
      continue;
    }
    const visit = visits.get(step.id) ?? 0;
    visits.set(step.id, visit + 1);
    const choice = chooseAt(step, patient(), choices, visit);
    path.push(`${step.id}: ${choice}`);
    await runs.answer(id, { revision, key: nextKey(), answer: { type: 'choice', choice } });
  }
  throw new Error(`no end after 150 answers: ${path.join(' > ')}`);
}

function chooseAt(step: StepView, patient: Patient, choices: Choices, visit: number): string {
  const wanted = choices[step.id];
  if (typeof wanted === 'string') return wanted;
  if (wanted !== undefined) return wanted(visit);
  const check = step.id.split('/')[1];
  if (step.kind === 'check' && check !== undefined) return patient.answerCheck(check);
  const plain = step.choices.find(({ tone }) => tone === 'plain') ?? step.choices[0];
  if (plain === undefined) throw new Error(`the step ${step.id} offers no answer`);
  return plain.id;
}
