/** In which order to play the notes: the ones that say most, first. */
import { type Fingering, type Instrument, midi } from '../mechanism/index.ts';
import { type Belief, believe } from './belief.ts';
import { playCheckId } from './check.ts';
import { afterAnswer, expectedInformation, type Observation } from './information.ts';
import type { DiagnosisModel } from './model.ts';
import { ownVent } from './placing.ts';
import { completePredictions } from './prediction.ts';
import type { Finding, Person } from './schema.ts';

export type PlayTest = {
  /** To be played by everybody, in this order. */
  readonly first: readonly Fingering[];
  /** The rest, in an order that tells most. */
  readonly then: readonly Fingering[];
};

/** A note that is expected to settle less than this much of a yes-or-no question may be left for later; estimate. */
const WORTH_PLAYING = 0.06;

const tests = new WeakMap<DiagnosisModel, Map<Person, PlayTest>>();

/**
 * The play test of an instrument. It begins with the note whose fingering is exactly all the main fingers down, because its
 * air column passes all their cups, and goes down by semitones: a sound instrument gives these, and most faults show in
 * them. The rest follow by expected information, each reckoned as if the notes before had spoken; those that still tell
 * enough belong to the first part.
 */
export function playTest(model: DiagnosisModel, person: Person): PlayTest {
  const known = tests.get(model) ?? new Map<Person, PlayTest>();
  tests.set(model, known);
  const test = known.get(person) ?? orderNotes(model, person);
  known.set(person, test);
  return test;
}

/** Ids of the play test's notes that would tell next to nothing after these findings and may be skipped. */
export function sparableNotes(model: DiagnosisModel, findings: readonly Finding[], person: Person): string[] {
  const belief = believe(model, findings, person);
  const { leastBits } = model.knowledge.people.rules;
  return model.instrument.playTest
    .filter((fingering) => !belief.notes.has(model.positionOf(playCheckId(fingering.id))))
    .filter((fingering) => bitsOf(belief, noteObservation(model, fingering, person)) < leastBits.value)
    .map(({ id }) => id);
}

function bitsOf({ mass }: Belief, observation: Observation): number {
  return expectedInformation(mass, observation);
}

function orderNotes(model: DiagnosisModel, person: Person): PlayTest {
  const { instrument } = model;
  const first = openingNotes(instrument);
  let masses: Float64Array = believe(model, [], person).mass;
  for (const fingering of first) masses = afterSpeaking(model, masses, fingering, person);
  const waiting = instrument.playTest.filter((fingering) => !first.includes(fingering));
  const then: Fingering[] = [];
  while (waiting.length > 0) {
    const bits = waiting.map((fingering) =>
      expectedInformation(masses, noteObservation(model, fingering, person)),
    );
    const best = bits.indexOf(Math.max(...bits));
    const [fingering] = waiting.splice(best, 1);
    (then.length === 0 && bits[best]! >= WORTH_PLAYING ? first : then).push(fingering!);
    masses = afterSpeaking(model, masses, fingering!, person);
  }
  return { first, then };
}

function afterSpeaking(
  model: DiagnosisModel,
  masses: Float64Array,
  fingering: Fingering,
  person: Person,
): Float64Array {
  return afterAnswer(masses, noteObservation(model, fingering, person), 0) ?? masses;
}

function noteObservation(model: DiagnosisModel, fingering: Fingering, person: Person): Observation {
  const position = model.positionOf(playCheckId(fingering.id));
  const codes = completePredictions(model.predictor, model.predictions(position));
  return { codes, rows: model.rows(position, person) };
}

/** The fingering of all main fingers and those below it, going down; all in the low register. */
function openingNotes(instrument: Instrument): Fingering[] {
  const standard = instrument.playTest.filter(({ kind, register }) => kind === 'standard' && register === 1);
  const main = mainTouches(instrument, standard);
  const holding = standard.filter(({ touches }) => main.every((touch) => touches.includes(touch)));
  const fewest = Math.min(...holding.map(({ touches }) => touches.length));
  const start = holding.find(({ touches }) => touches.length === fewest);
  if (start === undefined) return [];
  return holding
    .filter(({ note }) => midi(note) <= midi(start.note))
    .sort((one, other) => midi(other.note) - midi(one.note));
}

/** The touches under the three long fingers of either hand that close cups in the standard fingerings. */
function mainTouches(instrument: Instrument, standard: readonly Fingering[]): string[] {
  const used = new Set(standard.flatMap(({ touches }) => touches));
  return instrument.touches
    .filter(({ finger, part }) => part === undefined && finger !== 'thumb' && finger !== 'little')
    .filter(({ id }) => used.has(id) && ownVent(instrument, id) !== null)
    .map(({ id }) => id);
}
