/** An instrument with a known fault, and somebody who reports exactly what it does: for driving runs in tests. */
import type { DiagnosisModel, Person } from '../../src/diagnosis/index.ts';
import { completePredictions } from '../../src/diagnosis/prediction.ts';
import { noteName, type PlacedFault, predictNote, type Severity } from '../../src/mechanism/index.ts';
import type { AnswerBody } from '../../src/runs/schema.ts';

type NoteAnswer = Extract<AnswerBody, { type: 'note' }>;

/** An instrument with at most one fault. `null` is a sound one. */
export type Patient = {
  readonly fault: string | null;
  /** What a played fingering gives. */
  playNote(fingering: string): NoteAnswer;
  /** What a check shows: the likeliest answer under the fault. */
  answerCheck(check: string): string;
};

/**
 * The patient of a story.
 *
 * @param model the diagnosis model of its instrument, used for what checks show
 * @param fault id of the fault, or null for a sound instrument
 */
export function makePatient(
  model: DiagnosisModel,
  fault: string | null,
  severity: Severity = 'moderate',
  person: Person = 'director',
): Patient {
  const { instrument, hypotheses } = model;
  const placed: PlacedFault[] = fault === null ? [] : [{ fault: instrument.fault(fault), severity }];
  const number = fault === null ? null : hypotheses.faultNumber.get(fault);
  const hypothesis = number === null || number === undefined ? 0 : hypotheses.middle[number]!;
  return {
    fault,
    playNote(id) {
      const { degree, sounded } = predictNote(instrument, instrument.fingering(id), placed);
      if (sounded !== null)
        return { type: 'note', fingering: id, answered: 'wrong', sounded: noteName(sounded) };
      const answered = degree === 'none' ? 'speaks' : degree === 'severe' ? 'silent' : 'unsteady';
      return { type: 'note', fingering: id, answered };
    },
    answerCheck(id) {
      const position = model.positionOf(id);
      const codes = completePredictions(model.predictor, model.predictions(position));
      const rows = model.rows(position, person);
      const chances = rows[codes[hypothesis]!]!;
      return model.check(id).answers[chances.indexOf(Math.max(...chances))]!.id;
    },
  };
}
