/** In which order to play the notes: the ones that say most, first. */
import { type Fingering, type Instrument, midi, planOnTube, type Tube } from '../mechanism/index.ts';
import type { Belief } from './belief.ts';
import { playCheckId } from './check.ts';
import { checkOf } from './finding.ts';
import { afterAnswer, expectedInformation, type Observation } from './information.ts';
import type { DiagnosisModel } from './model.ts';
import { rowsNow } from './outlook.ts';
import { ownVent } from './placing.ts';
import { completePredictions, predict } from './prediction.ts';
import type { Finding, Person } from './schema.ts';

export type PlayTest = {
  /** To be played by everybody, in this order. */
  readonly first: readonly Fingering[];
  /** The rest, in an order that tells most. */
  readonly then: readonly Fingering[];
};

/** A note that is expected to settle less than this much of a yes-or-no question may be left for later; estimate. */
const WORTH_PLAYING = 0.06;
/** The same for a note more on the page where notes are being played anyway; fitted by simulation. */
const WORTH_ADDING = 0.03;

const tests = new WeakMap<DiagnosisModel, Map<Person, PlayTest>>();

/**
 * The play test of an instrument. It begins with the note whose fingering is exactly all the main fingers down, because its
 * air column passes all their cups, and goes down by semitones: a sound instrument gives these, and most faults show in
 * them. The rest follow by expected information, each reckoned as if the notes before had spoken; those that still tell
 * enough belong to the first part, which goes on upwards.
 */
export function playTest(model: DiagnosisModel, person: Person): PlayTest {
  const known = tests.get(model) ?? new Map<Person, PlayTest>();
  tests.set(model, known);
  const test = known.get(person) ?? orderNotes(model, person);
  known.set(person, test);
  return test;
}

/**
 * The notes that it is worth playing through on one page, after what has been found: the first part, and once it has been
 * played as far as it could be, those of the rest that would still tell enough. On a page of notes one more takes a few
 * seconds; asked for by itself it costs a whole question.
 */
export function notesToPlay(
  model: DiagnosisModel,
  belief: Belief,
  findings: readonly Finding[],
  person: Person,
): PlayTest {
  const { first, then: rest } = playTest(model, person);
  const heard = new Set(findings.map((finding) => checkOf(model, finding)));
  const isHeard = ({ id }: Fingering) => heard.has(playCheckId(id));
  if (!first.every(isHeard)) return playTest(model, person);
  const isWanted = (fingering: Fingering) =>
    isHeard(fingering) ||
    expectedInformation(belief.mass, wholeObservation(model, belief, fingering, person)) >= WORTH_ADDING;
  const then = rest.filter((fingering) => !isWanted(fingering));
  return { first: [...first, ...rest.filter(isWanted)], then };
}

function wholeObservation(
  model: DiagnosisModel,
  belief: Belief,
  fingering: Fingering,
  person: Person,
): Observation {
  const position = model.positionOf(playCheckId(fingering.id));
  const codes = completePredictions(model.predictor, model.predictions(position));
  return { codes, rows: rowsNow(model, belief, position, person) };
}

function orderNotes(model: DiagnosisModel, person: Person): PlayTest {
  const { instrument } = model;
  const first = openingNotes(instrument);
  let masses = singleMasses(model);
  for (const fingering of first) masses = afterSpeaking(model, masses, fingering, person);
  const waiting = instrument.playTest.filter((fingering) => !first.includes(fingering));
  const then: Fingering[] = [];
  const more: Fingering[] = [];
  while (waiting.length > 0) {
    const bits = waiting.map((fingering) =>
      expectedInformation(masses, noteObservation(model, fingering, person)),
    );
    const best = bits.indexOf(Math.max(...bits));
    const [fingering] = waiting.splice(best, 1);
    (then.length === 0 && bits[best]! >= WORTH_PLAYING ? more : then).push(fingering!);
    masses = afterSpeaking(model, masses, fingering!, person);
  }
  // Chosen by what they tell, played going up: hopping about would only confuse.
  more.sort((one, other) => midi(one.note) - midi(other.note));
  return { first: [...first, ...more], then };
}

/** Prior masses with the pairs left out: they hardly change the order, and most of the work would be theirs. */
function singleMasses(model: DiagnosisModel): Float64Array {
  const { logPrior, firstPair } = model.hypotheses;
  const masses = logPrior.slice(0, firstPair).map(Math.exp);
  const sum = masses.reduce((total, mass) => total + mass, 0);
  return masses.map((mass) => mass / sum);
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
  const predictions = model.predictions(position);
  for (let single = 0; single < model.hypotheses.firstPair; single += 1)
    predict(model.predictor, predictions, single);
  return { codes: predictions.codes, rows: model.rows(position, person) };
}

/** The fingering of all main fingers and those below it, going down; all in the low register. On brass: see {@link onOnePartial}. */
function openingNotes(instrument: Instrument): Fingering[] {
  if (instrument.tube !== null) return onOnePartial(instrument.playTest, instrument.tube);
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

/**
 * The notes of one partial, going down: the partial that meets most combinations of valves and positions of the slide, of several
 * the highest, because only the valves then change from note to note.
 */
function onOnePartial(playTest: readonly Fingering[], tube: Tube): Fingering[] {
  const partials = new Map<number, Fingering[]>();
  for (const fingering of playTest) {
    const { partial } = planOnTube(tube, fingering);
    if (partial !== null) partials.set(partial, [...(partials.get(partial) ?? []), fingering]);
  }
  const [best = []] = [...partials]
    .sort(([one, ofOne], [other, ofOther]) => ofOther.length - ofOne.length || other - one)
    .map(([, fingerings]) => fingerings);
  return best.sort((one, other) => midi(other.note) - midi(one.note));
}

/** The touches under the three long fingers of either hand that close cups in the standard fingerings. */
function mainTouches(instrument: Instrument, standard: readonly Fingering[]): string[] {
  const used = new Set(standard.flatMap(({ touches }) => touches));
  return instrument.touches
    .filter(({ finger, part }) => part === undefined && finger !== 'thumb' && finger !== 'little')
    .filter(({ id }) => used.has(id) && ownVent(instrument, id) !== null)
    .map(({ id }) => id);
}
