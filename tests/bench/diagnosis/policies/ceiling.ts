/** The limit of what can be known: the exact posterior after every note and check that this person can answer. */
import { believe, type DiagnosisModel, type Finding } from '../../../../src/diagnosis/index.ts';
import { canDo } from '../../../../src/diagnosis/treatment.ts';
import { type Guess, guessOf } from '../measures/guess.ts';
import type { Case } from '../simulator/case.ts';
import { answerCheck } from '../simulator/inspector.ts';
import { playNote } from '../simulator/player.ts';

/** Every answer that this person can give of the untouched instrument. */
export function everyFinding(model: DiagnosisModel, the: Case): Finding[] {
  const { faults } = the.truth;
  return model.checks
    .filter((check) => canDo(check, the.situation))
    .map(
      (check): Finding =>
        check.kind === 'play'
          ? playNote(the, model.instrument.fingering(check.place), faults)
          : { check: check.id, saw: answerCheck(the, model, check.id, faults) },
    );
}

/** What the engine's model holds to be the matter when everything has been answered. */
export function ceilingOf(model: DiagnosisModel, the: Case): Guess {
  const belief = believe(model, everyFinding(model, the), the.situation.person);
  return guessOf(model, belief, the);
}
