/** What could be known by an engine that is told how strongly the simulated people err: the limit where they err more than it reckons. */
import { buildDiagnosisModel, type DiagnosisModel, type Person } from '../../../../src/diagnosis/index.ts';
import type { PeopleFile } from '../../../../src/diagnosis/people-schema.ts';
import { SEVERITIES, type Severity } from '../../../../src/mechanism/index.ts';
import { STRENGTH } from '../../../../src/mechanism/severity.ts';
import { DECIBELS } from '../simulator/player.ts';
import { GAIN, MEMORY, PLAYING, SENSES, SLIPS, TOLD_RIGHTLY, WEAR, WRONG_PART } from '../simulator/rates.ts';

/**
 * The model with its error rates replaced by those of the simulated people, who err so many times as strongly.
 * Everything else stays: the faults, their frequencies, what each shows.
 */
export function informedModel(
  { instrument, knowledge }: DiagnosisModel,
  person: Person,
  noise: number,
): DiagnosisModel {
  return buildDiagnosisModel(instrument, {
    ...knowledge,
    people: informedPeople(knowledge.people, person, noise),
  });
}

function informedPeople(people: PeopleFile, person: Person, noise: number): PeopleFile {
  const { notes, checks } = {
    notes: SLIPS[person] * noise,
    checks: (SLIPS[person] + WRONG_PART[person]) * noise,
  };
  const conditions = people.player.conditions.map((condition) => {
    if (condition.end === 'all') return condition;
    const missing = condition.end === 'low' ? PLAYING.withoutLow : PLAYING.withoutHigh;
    return { ...condition, chances: { ...condition.chances, [person]: missing[person] * noise } };
  });
  return {
    ...people,
    player: { conditions },
    blur: { ...people.blur, [person]: { ...people.blur[person], notes, checks } },
    senses: Object.fromEntries(
      Object.entries(people.senses).map(([id, sense]) => [id, { ...sense, ...caught(id, noise) }]),
    ),
    notes: { ...people.notes, answers: noteAnswers(person, noise), naming: naming(person, noise) },
  };
}

type Caught = { readonly falseYes: number; readonly seen: Readonly<Record<Severity, number>> };

/** How often a sense reports what is not there, and what is. */
function caught(sense: string, noise: number): Caught {
  if (sense === 'memory') return { falseYes: MEMORY.invents, seen: bySeverity(() => MEMORY.recalls) };
  const { halfSee, spread } = SENSES[sense] ?? SENSES.look!;
  const sees = (size: number) =>
    meanOverWear((wear) => above(Math.log2((size + wear) / halfSee), spread * noise));
  const hears = (gain: number) => above(gain - GAIN.halfHear, GAIN.spread * noise);
  if (sense === 'listen')
    return {
      falseYes: hears(0),
      seen: {
        slight: hears(DECIBELS.slight),
        moderate: hears(DECIBELS.clear),
        gross: hears(DECIBELS.severe),
      },
    };
  return { falseYes: sees(0), seen: bySeverity((severity) => TOLD_RIGHTLY * sees(STRENGTH[severity])) };
}

const bySeverity = (chance: (severity: Severity) => number) =>
  Object.fromEntries(SEVERITIES.map((severity) => [severity, chance(severity)])) as Record<Severity, number>;

/** How a note is told that is disturbed so much, by this person. */
function noteAnswers(person: Person, noise: number): PeopleFile['notes']['answers'] {
  const { unsteadyFrom, silentFrom, silentSpread, reed, lawError, jumps } = PLAYING;
  const day = Math.hypot(PLAYING.embouchure[person] * noise, reed, PLAYING.perNote[person] * noise);
  const notices = (rate: number) => 1 - (1 - rate) * noise;
  const octave = jumps * notices(PLAYING.noticesOctave[person]);
  const told = (decibels: number, jumping: number) => {
    const spread = decibels > 0 ? Math.hypot(day, lawError) : day;
    const fails = above(decibels - unsteadyFrom, spread);
    const silent = above(decibels - silentFrom, Math.hypot(spread, silentSpread));
    const comes = Math.max(0, fails - silent);
    return sharesOf({ speaks: 1 - fails, unsteady: comes * (1 - jumping), wrong: comes * jumping, silent });
  };
  const noticed = notices(
    (PLAYING.noticesOther[person] + PLAYING.noticesSemitone[person] + PLAYING.noticesOctave[person]) / 3,
  );
  return {
    none: told(DECIBELS.none, 0),
    slight: told(DECIBELS.slight, 0),
    clear: told(DECIBELS.clear, 0),
    severe: told(DECIBELS.severe, 0),
    clearOctave: told(DECIBELS.clear, octave),
    severeOctave: told(DECIBELS.severe, octave),
    other: sharesOf({ speaks: 1 - noticed, unsteady: 0, wrong: noticed, silent: 0 }),
  };
}

/** What no rate speaks of happens at times all the same; estimate. */
const LEAST = 0.006;

/** Brings the chances of the answers to a sum of 1, none of them nothing at all. */
function sharesOf<Answer extends string>(chances: Record<Answer, number>): Record<Answer, number> {
  const floored = Object.entries<number>(chances).map(
    ([answer, chance]) => [answer, Math.max(LEAST, chance)] as const,
  );
  const sum = floored.reduce((total, [, chance]) => total + chance, 0);
  return Object.fromEntries(floored.map(([answer, chance]) => [answer, chance / sum])) as Record<
    Answer,
    number
  >;
}

function naming(person: Person, noise: number): PeopleFile['notes']['naming'] {
  return {
    exact: 1 - (1 - PLAYING.namesRightly[person]) * noise,
    semitone: PLAYING.namesSemitoneOff * noise,
    octave: PLAYING.namesOctaveOff * noise,
  };
}

/** Chance that something normal with mean 0 and this deviation stays below the margin. */
const above = (margin: number, deviation: number) => normalBelow(margin / deviation);

/** The mean over how worn a sound part is, every tenth of a deviation. */
function meanOverWear(chance: (wear: number) => number): number {
  let sum = 0;
  let weights = 0;
  for (let tenth = -30; tenth <= 30; tenth += 1) {
    const weight = Math.exp(-((tenth / 10) ** 2) / 2);
    sum += weight * chance(WEAR.median * 2 ** ((tenth / 10) * WEAR.spread));
    weights += weight;
  }
  return sum / weights;
}

/** The standard normal distribution function, to 7.5e-8: Abramowitz & Stegun 1964, Handbook of Mathematical Functions, 26.2.17 (from memory). */
export function normalBelow(value: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(value));
  const series = [1.330274429, -1.821255978, 1.781477937, -0.356563782, 0.31938153];
  const tail =
    (series.reduce((sum, term) => (sum + term) * t, 0) * Math.exp((-value * value) / 2)) /
    Math.sqrt(2 * Math.PI);
  return value > 0 ? 1 - tail : tail;
}
