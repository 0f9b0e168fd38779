/** How likely a person is to give each answer, when a hypothesis predicts this or that: the stated error rates. */
import { type Degree, midi, type NoteEffect, nextRegister } from '../mechanism/index.ts';
import { NOTE_ANSWERS } from './check.ts';
import type { DiagnosisModel } from './model.ts';
import type { ShortDegree } from './people-schema.ts';
import { answerCode, type Predictions } from './prediction.ts';
import type { Answered, PeopleFile, Person } from './schema.ts';

const OCTAVE = 12;
/** How far below the instrument's range a person may name a note, in semitones; above it, as far as a note overblows. */
const NAMED_BELOW = 2;

type NoteAnswer = Exclude<Answered, 'could-not-tell'>;
/** The coarse answers to a note among which information is reckoned; a wrong note by where it lies. */
const COARSE = ['speaks', 'unsteady', 'silent', 'next register', 'lower', 'other'] as const;

/**
 * Chances of the answers by code, for reckoning information: one row a code, one entry an answer.
 * For notes the answers are the coarse ones: speaks, unsteady, silent, the next register, a lower note, another note.
 * @param short for a note that fails this player: how much; null for the others.
 */
export function answerRows(
  model: DiagnosisModel,
  predictions: Predictions,
  person: Person,
  short: ShortDegree | null = null,
): Float64Array[] {
  const { check, plan } = predictions.planned;
  if (plan.by === 'note') return noteRows(model, predictions, person, short);
  return Array.from({ length: countCodes(predictions) }, (_, code) =>
    Float64Array.from(check.answers, (_, answer) =>
      checkChance(model, predictions, { person, code, answer }),
    ),
  );
}

/** How many codes there are so far: for notes and for what is remembered they grow with the hypotheses looked at. */
export function countCodes({ planned: { check, plan }, effects, chances }: Predictions): number {
  if (plan.by === 'note') return effects.length + 1;
  return plan.by === 'history' ? chances.length + 1 : answerCode(check.answers.length, 0);
}

function noteRows(
  model: DiagnosisModel,
  predictions: Predictions,
  person: Person,
  short: ShortDegree | null,
): Float64Array[] {
  const { plan } = predictions.planned;
  if (plan.by !== 'note') return [];
  const fingered = midi(plan.fingering.note);
  const above = nextRegister(model.instrument, plan.fingering);
  const { lowest, highest } = namedRange(model);
  const codes = [null, ...predictions.effects];
  return codes.map((effect) => {
    const row = new Float64Array(COARSE.length);
    const chance = (answered: NoteAnswer, sounded: number | null) =>
      noteChance(model, { effect, fingered, above, person, short }, answered, sounded);
    row[0] = chance('speaks', null);
    row[1] = chance('unsteady', null);
    row[2] = chance('silent', null);
    for (let note = lowest; note <= highest; note += 1) {
      const place = note === above ? 3 : note < fingered ? 4 : 5;
      row[place]! += chance('wrong', note);
    }
    return row;
  });
}

/**
 * Chance that a person gives this answer to a check, given the code that a hypothesis predicts.
 * A sign that is there is caught or missed (then mostly reported as nothing); one that is not is at times imagined.
 * @param isBlurred whether the answers that say nothing are mixed in; not where that is reckoned for a whole part.
 */
export function checkChance(
  { knowledge: { people } }: DiagnosisModel,
  { planned, chances }: Predictions,
  { person, code, answer }: { person: Person; code: number; answer: number },
  isBlurred = true,
): number {
  const { check, plan, quiet, named } = planned;
  const count = check.answers.length;
  const { falseYes, seen } = people.senses[planned.sense]!;
  const blur = isBlurred ? people.blur[person].checks : 0;
  const quietChance = answer === quiet ? 1 - falseYes : falseYes / (count - 1);
  let chance: number;
  if (code === 0) {
    chance = mixElse(people, quietChance, count);
  } else if (plan.by === 'history') {
    const holds = chances[code - 1]!;
    const told = holds * seen.moderate + (1 - holds) * falseYes;
    chance = answer === named[0] ? told : (1 - told) / (count - 1);
  } else {
    const shown = Math.floor((code - 1) / 4);
    const grade = (code - 1) % 4;
    chance =
      grade === 0 ? quietChance : shownChance(answer, { shown, quiet, count, caught: seenAt(seen, grade) });
  }
  return (1 - blur) * chance + blur / count;
}

/** Of the signs that are missed most pass for nothing; the rest are taken for another sign. Estimate. */
const MISSED_AS_NOTHING = 0.8;

function shownChance(
  answer: number,
  { shown, quiet, count, caught }: { shown: number; quiet: number; count: number; caught: number },
): number {
  if (answer === shown) return caught;
  const nothing = count > 2 ? MISSED_AS_NOTHING : 1;
  return (1 - caught) * (answer === quiet ? nothing : (1 - nothing) / (count - 2));
}

function seenAt(seen: { slight: number; moderate: number; gross: number }, grade: number): number {
  return grade === 1 ? seen.slight : grade === 2 ? seen.moderate : seen.gross;
}

function mixElse({ somethingElse: { likeHealthy } }: PeopleFile, healthy: number, count: number): number {
  return likeHealthy * healthy + (1 - likeHealthy) / count;
}

/** What a hypothesis says about a note (null: something else), which note was fingered, and who answers. */
export type Playing = {
  readonly effect: NoteEffect | null;
  readonly fingered: number;
  /** MIDI number of the note that these fingers give in the next register. */
  readonly above: number;
  readonly person: Person;
  /** How much this note fails the player of today; null or left out where it does not. */
  readonly short?: ShortDegree | null;
};

/**
 * Chance that a person answers a note so. @param sounded MIDI number of the note that a wrong note was called; null when
 * it was not named, and then the chance is that of "wrong" whatever the name.
 */
export function noteChance(
  model: DiagnosisModel,
  { effect, fingered, above, person, short = null }: Playing,
  answered: NoteAnswer,
  sounded: number | null,
): number {
  const { people } = model.knowledge;
  const count = NOTE_ANSWERS.length;
  const degree = (own: Degree) => (short === null ? own : SHORT_OF[short][own]);
  const plain =
    effect === null
      ? mixElse(people, people.notes.answers[degree('none')][answered], count)
      : degreeChance(people, { ...effect, degree: degree(effect.degree) }, answered);
  const blur = people.blur[person].notes;
  const chance = (1 - blur) * plain + blur / count;
  if (answered !== 'wrong' || sounded === null) return chance;
  return chance * namingChance(model, effect, { fingered, above, sounded });
}

/** Where a player falls short, a note answers as if it were disturbed more; one that only wavers is as good as disturbed already. */
const SHORT_OF: Readonly<Record<ShortDegree, Readonly<Record<Degree, Degree>>>> = {
  slight: { none: 'slight', slight: 'slight', clear: 'clear', severe: 'severe' },
  clear: { none: 'clear', slight: 'clear', clear: 'severe', severe: 'severe' },
};

function degreeChance({ notes }: PeopleFile, effect: NoteEffect, answered: NoteAnswer): number {
  const disturbed = notes.answers[rowName(effect.degree, effect.octaveUp)][answered];
  if (effect.sounded === null) return disturbed;
  const share = notes.otherShare[effect.degree];
  return share * notes.answers.other[answered] + (1 - share) * disturbed;
}

function rowName(degree: Degree, octaveUp: boolean): keyof PeopleFile['notes']['answers'] {
  if (!octaveUp) return degree;
  return degree === 'severe' ? 'severeOctave' : degree === 'clear' ? 'clearOctave' : degree;
}

function namedRange({ instrument: { range, overblow } }: DiagnosisModel): {
  lowest: number;
  highest: number;
  count: number;
} {
  const lowest = midi(range.lowest) - NAMED_BELOW;
  const highest = midi(range.highest) + overblow;
  return { lowest, highest, count: highest - lowest + 1 };
}

/** Chance that a wrong note is called `sounded`. */
function namingChance(
  model: DiagnosisModel,
  effect: NoteEffect | null,
  { fingered, above, sounded }: { fingered: number; above: number; sounded: number },
): number {
  const { naming, unsettled } = model.knowledge.people.notes;
  const { count } = namedRange(model);
  if (effect === null) return 1 / count;
  const heard = effect.sounded ?? (effect.octaveUp ? above : null);
  if (heard === null) {
    const spread = (1 - unsettled.octaveUp - unsettled.neighbour) / count;
    if (sounded === above) return unsettled.octaveUp + spread;
    return spread + (Math.abs(sounded - fingered) === 1 ? unsettled.neighbour / 2 : 0);
  }
  const off = Math.abs(sounded - heard);
  const spread = (1 - naming.exact - naming.semitone - naming.octave) / count;
  if (off === 0) return naming.exact + spread;
  if (off === 1) return naming.semitone / 2 + spread;
  return spread + (off === OCTAVE ? naming.octave / 2 : 0);
}
