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
  const placed = fault === null ? [] : [{ fault: model.instrument.fault(fault), severity }];
  return { fault, ...makeFaulty(model, placed, person) };
}

/** As {@link makePatient}, with any number of faults at once. A check shows the first of them for which it shows anything. */
export function makeFaulty(
  model: DiagnosisModel,
  placed: readonly PlacedFault[],
  person: Person = 'director',
): Pick<Patient, 'playNote' | 'answerCheck'> {
  const { instrument } = model;
  const playNote = (id: string): NoteAnswer => {
    const { degree, sounded } = predictNote(instrument, instrument.fingering(id), placed);
    if (sounded !== null)
      return { type: 'note', fingering: id, answered: 'wrong', sounded: noteName(sounded) };
    const answered = degree === 'none' ? 'speaks' : degree === 'severe' ? 'silent' : 'unsteady';
    return { type: 'note', fingering: id, answered };
  };
  return {
    playNote,
    answerCheck(id) {
      const { kind, place } = model.check(id);
      if (kind === 'play') return playNote(place).answered;
      const well = likeliestAnswer(model, id, HEALTHY, person);
      const shown = placed.map((one) => likeliestAnswer(model, id, hypothesisOf(model, one), person));
      return shown.find((answer) => answer !== well) ?? well;
    },
  };
}

const HEALTHY = 0;

/** The fault with nothing beside it, in the middle of its severities. */
function hypothesisOf({ hypotheses }: DiagnosisModel, { fault }: PlacedFault): number {
  return hypotheses.middle[hypotheses.faultNumber.get(fault.id)!]!;
}

function likeliestAnswer(model: DiagnosisModel, id: string, hypothesis: number, person: Person): string {
  const position = model.positionOf(id);
  const codes = completePredictions(model.predictor, model.predictions(position));
  const chances = model.rows(position, person)[codes[hypothesis]!]!;
  return model.check(id).answers[chances.indexOf(Math.max(...chances))]!.id;
}
