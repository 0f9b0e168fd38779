/** Counting what a run costs the person. */
import type { Check, DiagnosisModel, Person, Situation } from '../../../../src/diagnosis/index.ts';
import { costOf } from '../../../../src/diagnosis/ranking.ts';
import type { Effort } from '../measures/result.ts';

/** Seconds for one note of the play-test page, which are played one after another; estimate. */
const NOTE_SECONDS = 6;

export type Meter = { add(check: Check): void; addNotes(count: number): void; read(): Effort };

/** A meter for one person. Seconds are those of checks.yaml and people.yaml, the same for every policy. */
export function startMeter(model: DiagnosisModel, situation: Situation): Meter {
  const factor: Record<Person, number> = model.knowledge.people.costs.persons;
  let checks = 0;
  let notes = 0;
  let seconds = 0;
  let inHand: Check['tools'] = [];
  return {
    add(check) {
      checks += 1;
      seconds += costOf(model, check, situation, inHand);
      inHand = check.tools;
    },
    addNotes(count) {
      notes += count;
      seconds += count * NOTE_SECONDS * factor[situation.person];
    },
    read: () => ({ checks, notes, seconds }),
  };
}
