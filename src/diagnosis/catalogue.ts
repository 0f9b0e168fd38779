/** All checks of an instrument: every kind of check at every part that it fits, worded and planned. */
import { type Fault, type Fingering, faultId, type Instrument, predictNote } from '../mechanism/index.ts';
import { NOTE_ANSWERS, type Plan, type PlannedCheck, playCheckId } from './check.ts';
import { fingersWords, linkWords, noteWords, partWords, type Words } from './check-words.ts';
import { filterPlaces } from './places.ts';
import { closingTouches, openingTouches, trialOf } from './placing.ts';
import type { CheckKind, Knowledge, Person } from './schema.ts';
import { fillIn } from './wording.ts';

const EVERYBODY: readonly Person[] = ['director', 'helper', 'desk'];
const NOBODY: readonly Person[] = [];
const HANDS_ON: readonly Person[] = ['director', 'helper'];

/** What a check at one place needs: its plan, the words of its sentences, what the picture shows. */
type Setting = {
  readonly plan: Plan;
  readonly words: Words;
  readonly watch?: string;
  readonly beside?: string;
  readonly hold?: readonly string[];
  readonly tap?: string;
};

/**
 * Makes every check of an instrument, the notes first.
 * @throws RangeError when a sentence uses a word that the part does not have.
 */
export function makeChecks(instrument: Instrument, knowledge: Knowledge): PlannedCheck[] {
  const notes = instrument.fingerings.map((fingering) => noteCheck(instrument, knowledge, fingering));
  const others = knowledge.checks.kinds.flatMap((kind) =>
    filterPlaces(instrument, kind.at).flatMap((place) => {
      const setting = settingOf(instrument, knowledge, kind, place);
      return setting === null
        ? []
        : [otherCheck(kind, place, { ...setting, words: { ...knowledge.words, ...setting.words } })];
    }),
  );
  return [...notes, ...others];
}

function noteCheck(instrument: Instrument, knowledge: Knowledge, fingering: Fingering): PlannedCheck {
  const { playNote } = knowledge.checks;
  const words = {
    ...knowledge.words,
    note: noteWords(instrument, fingering),
    hands: fingersWords(instrument, fingering),
  };
  return {
    check: {
      id: playCheckId(fingering.id),
      kind: 'play',
      place: fingering.id,
      title: fillIn(playNote.title, words),
      ask: fillIn(playNote.ask, words),
      why: fillIn(playNote.why, words),
      ...plainWords(playNote, words),
      answers: NOTE_ANSWERS.map((id) => ({ id, label: playNote.labels[id] })),
      seconds: playNote.seconds,
      tools: [],
      persons: EVERYBODY,
      group: 'play',
      needsPlaying: true,
      plays: fingering.id,
      hold: fingering.touches,
    },
    plan: { by: 'note', fingering },
    sense: 'listen',
    quiet: 0,
    named: [],
  };
}

function otherCheck(kind: CheckKind, place: string, setting: Setting): PlannedCheck {
  const { plan, words, watch, beside, hold, tap } = setting;
  const position = (id: string) => kind.answers.findIndex((answer) => answer.id === id);
  return {
    check: {
      id: `${kind.id}@${place}`,
      kind: kind.id,
      place,
      title: fillIn(kind.title, words),
      ask: fillIn(kind.ask, words),
      why: fillIn(kind.why, words),
      ...plainWords(kind, words),
      answers: kind.answers.map(({ id, label }) => ({ id, label: fillIn(label, words) })),
      seconds: kind.seconds,
      tools: kind.tools,
      persons: kind.isOnlyTold === true ? NOBODY : kind.isRemote ? EVERYBODY : HANDS_ON,
      group: kind.group,
      needsPlaying: kind.sense === 'listen',
      ...('fingering' in plan ? { plays: plan.fingering.id } : {}),
      ...(watch === undefined ? {} : { watch }),
      ...(beside === undefined ? {} : { beside }),
      ...(hold === undefined ? {} : { hold }),
      ...(tap === undefined ? {} : { tap }),
    },
    plan,
    sense: kind.sense,
    quiet: kind.answers.findIndex(({ isQuiet }) => isQuiet === true),
    named: namedAnswers(kind).map(position),
  };
}

function plainWords({ plainly }: Pick<CheckKind, 'plainly'>, words: Words): { plainly?: string } {
  return plainly === undefined ? {} : { plainly: fillIn(plainly, words) };
}

/** The answer ids that a rule names, in a fixed order. */
export function namedAnswers({ rule }: CheckKind): string[] {
  switch (rule.by) {
    case 'sealing':
      return [rule.leaks];
    case 'pressing':
    case 'squeezing':
      return [rule.cured];
    case 'stirring':
      return [rule.stirs];
    case 'landing':
      return [rule.ownFirst, rule.targetFirst];
    case 'opening':
      return [rule.little, rule.shut];
    case 'rising':
      return [rule.stays];
    case 'sign':
      return [];
    case 'history':
      return [rule.yes];
  }
}

function settingOf(
  instrument: Instrument,
  knowledge: Knowledge,
  kind: CheckKind,
  place: string,
): Setting | null {
  const { rule } = kind;
  const vent = instrument.vents.findIndex(({ id }) => id === place);
  switch (rule.by) {
    case 'sealing': {
      const hold = closingTouches(instrument, place);
      return {
        plan: { by: 'sealing', vent, touches: hold },
        words: partWords(instrument, place, hold),
        watch: place,
        hold,
      };
    }
    case 'opening': {
      const hold = openingTouches(instrument, place);
      if (hold.length === 0) return null;
      return {
        plan: { by: 'opening', vent, touches: hold },
        words: partWords(instrument, place, hold),
        watch: place,
        hold,
      };
    }
    case 'rising':
      return {
        plan: { by: 'rising', vent },
        words: partWords(instrument, place, []),
        watch: place,
        hold: [],
      };
    case 'pressing': {
      const fingering = tellingNote(instrument, place);
      if (fingering === null) return null;
      const words = { ...partWords(instrument, place, []), note: noteWords(instrument, fingering) };
      return {
        plan: { by: 'pressing', vent: place, fingering },
        words,
        watch: place,
        hold: fingering.touches,
      };
    }
    case 'squeezing': {
      const fingering = instrument.fingering(place);
      if (!instrument.playTest.includes(fingering)) return null;
      const words = {
        note: noteWords(instrument, fingering),
        hands: fingersWords(instrument, fingering),
      };
      return { plan: { by: 'squeezing', fingering }, words, hold: fingering.touches };
    }
    case 'stirring':
    case 'landing':
      return linkSetting(instrument, rule.by, place);
    case 'history':
      return { plan: historyPlan(instrument, rule), words: {} };
    case 'sign':
      return signSetting(instrument, knowledge, kind, place);
  }
}

function linkSetting(instrument: Instrument, by: 'stirring' | 'landing', link: string): Setting | null {
  const trial = trialOf(instrument, link);
  if (trial.targetVent === null) return null;
  const target = instrument.vents.findIndex(({ id }) => id === trial.targetVent);
  const hold = [...trial.drive, ...trial.free];
  const words = linkWords(instrument, link, trial);
  if (by === 'stirring') {
    if (trial.free.length === 0) return null;
    const [tap] = trial.free;
    const plan = { by, vent: target, touches: hold } as const;
    return { plan, words, watch: trial.targetVent, hold: trial.drive, ...(tap === undefined ? {} : { tap }) };
  }
  if (trial.own === null) return null;
  const own = instrument.vents.findIndex(({ id }) => id === trial.own);
  return {
    plan: { by, own, target, touches: hold },
    words,
    watch: trial.targetVent,
    beside: trial.own,
    hold,
  };
}

function historyPlan(instrument: Instrument, rule: Extract<CheckKind['rule'], { by: 'history' }>): Plan {
  const chanceOf = ({ kind }: Fault) =>
    rule.chances.find(({ kinds }) => kinds.includes(kind))?.chance ?? rule.otherwise;
  return {
    by: 'history',
    chances: Float64Array.from(instrument.faults, chanceOf),
    otherwise: rule.otherwise,
  };
}

/** A check that shows what faults at its place, or at the places it covers, declare; null when none declares anything. */
function signSetting(
  instrument: Instrument,
  knowledge: Knowledge,
  kind: CheckKind,
  place: string,
): Setting | null {
  if (kind.rule.by !== 'sign') return null;
  const places = kind.rule.covers === undefined ? [place] : filterPlaces(instrument, kind.rule.covers);
  const shows = new Map<number, number>();
  instrument.faults.forEach((fault, number) => {
    if (!places.includes(fault.place)) return;
    const sign = knowledge.faults.kinds.find((entry) => entry.kind === fault.kind)?.signs[kind.id];
    if (sign !== undefined)
      shows.set(
        number,
        kind.answers.findIndex(({ id }) => id === sign),
      );
  });
  if (shows.size === 0) return null;
  const plan: Plan = { by: 'sign', shows };
  if (!instrument.hasPart(place)) return { plan, words: {} };
  const part = instrument.part(place);
  if (part.sort === 'link') {
    // How the link works is looked at where its two parts meet, so the picture shows the link itself.
    return { plan, words: linkWords(instrument, place, trialOf(instrument, place)) };
  }
  const hold = part.sort === 'vent' ? openingTouches(instrument, place) : [];
  return {
    plan,
    words: partWords(instrument, place, hold),
    // What the sentence does not ask to press is not shown as pressed: the cup is looked at as it rests.
    ...(part.sort === 'vent' ? { watch: place, hold: kind.ask.includes('{{work}}') ? hold : [] } : {}),
  };
}

/**
 * The note that tells most plainly whether a cup leaks: of the low register, beginning with the first note of the play
 * test that closes every finger's cup and going down, then the rest, the first that a middling leak disturbs clearly.
 */
function tellingNote(instrument: Instrument, vent: string): Fingering | null {
  const kind = instrument.vent(vent).cover === 'finger' ? 'uncovered' : 'leaks';
  const leak = [{ fault: instrument.fault(faultId(kind, vent)), severity: 'moderate' as const }];
  const standard = instrument.fingerings.filter(
    ({ kind, register }) => kind === 'standard' && register === 1,
  );
  const longest = Math.max(...standard.map(({ touches }) => touches.length));
  const order = [...standard].sort((one, other) => rank(one) - rank(other));
  return (
    order.find((fingering) =>
      ['clear', 'severe'].includes(predictNote(instrument, fingering, leak).degree),
    ) ?? null
  );

  /** Fewer little-finger keys first among the long fingerings; short fingerings last. */
  function rank({ touches }: Fingering): number {
    return touches.length >= longest - 2 ? touches.length : 2 * longest - touches.length;
  }
}
