/** What each fault does to which notes, worked out by the mechanism and put into as few words as tell it all. */
import {
  type Fault,
  type Fingering,
  type Instrument,
  midi,
  noteName,
  predictNote,
  type Severity,
  severitiesOf,
} from '../mechanism/index.ts';
import { fingeringName, playersName } from '../runs/note-names.ts';
import type { FaultView } from '../web/instrument-schema.ts';

type EffectView = FaultView['effects'][number];
type Effect = Pick<EffectView, 'degree' | 'nextRegister' | 'shift'>;

/** The severity that is told of a fault: the middle one, or the only one that it has. */
export function severityTold(fault: Fault): Severity {
  const severities = severitiesOf(fault);
  return severities.includes('moderate') ? 'moderate' : severities[0]!;
}

/** The fingerings of an instrument as they are told: from low to high, each with its note and the standard ones of that note. */
type Told = {
  readonly fingering: Fingering;
  readonly note: number;
  readonly name: string;
  standards: readonly Told[];
};

/**
 * Makes the function that tells what a fault of the instrument does to the fingerings, those that suffer alike together, from low to
 * high; and which other fingerings are spared although the standard one of their note is not. Empty when no note changes.
 */
export function effectTeller(
  instrument: Instrument,
): (fault: Fault) => Pick<FaultView, 'effects' | 'spared'> {
  const all = fingeringsToTell(instrument);
  const standard = all.filter(isStandard);
  return (fault) => {
    const placed = [{ fault, severity: severityTold(fault) }];
    const groups = new Map<string, { effect: Effect; members: Told[] }>();
    const keyOf = new Map<Told, string>();
    for (const told of all) {
      const { degree, octaveUp, sounded } = predictNote(instrument, told.fingering, placed);
      if (degree === 'none' && sounded === null) continue;
      const shift = sounded === null ? null : sounded - told.note;
      const key = `${degree} ${octaveUp} ${shift}`;
      const group = groups.get(key) ?? { effect: { degree, nextRegister: octaveUp, shift }, members: [] };
      group.members.push(told);
      groups.set(key, group);
      keyOf.set(told, key);
    }
    /** Nothing need be said of a fingering that fares like the standard one of its note. */
    const isLikeStandard = (told: Told) =>
      told.standards.some((other) => keyOf.get(other) === keyOf.get(told));
    const effects = [...groups.values()].map(({ effect, members }) => {
      const runs = runsAmong(standard, new Set(members)).map((run) => sayRun(instrument, run));
      const others = members.filter((told) => !isStandard(told) && !isLikeStandard(told));
      return {
        ...effect,
        how: sayHow(instrument, effect, members),
        fingerings: members.map(({ fingering }) => fingering.id),
        notes: [runs.join(', '), ...others.map(({ name }) => name)].filter((part) => part !== '').join('; '),
      };
    });
    const spared = all.filter(
      (told) =>
        told.fingering.kind === 'alternate' &&
        !keyOf.has(told) &&
        told.standards.length > 0 &&
        !isLikeStandard(told),
    );
    return { effects, spared: spared.map(({ name }) => name).join('; ') };
  };
}

function fingeringsToTell(instrument: Instrument): Told[] {
  const all = instrument.fingerings
    .map(
      (fingering): Told => ({
        fingering,
        note: midi(fingering.note),
        name: fingeringName(instrument, fingering),
        standards: [],
      }),
    )
    .toSorted((one, other) => one.note - other.note);
  const standards = Map.groupBy(all.filter(isStandard), ({ note }) => note);
  for (const told of all) told.standards = standards.get(told.note) ?? [];
  return all;
}

const isStandard = ({ fingering }: Told): boolean => fingering.kind === 'standard';

function sayHow(
  instrument: Instrument,
  { degree, nextRegister, shift }: Effect,
  members: readonly Told[],
): string {
  const parts = [
    shift === null ? null : sayOther(instrument, shift, members),
    degree === 'none' ? 'cleanly' : degree,
    nextRegister ? 'tends up to the next register' : null,
  ];
  return parts.filter((part) => part !== null).join(', ');
}

/** The note that comes instead: by its name where it is one, else by the step from the note that is meant. */
function sayOther(instrument: Instrument, shift: number, members: readonly Told[]): string {
  const notes = new Set(members.map(({ note }) => note));
  const [only] = notes;
  return notes.size === 1 && only !== undefined
    ? `gives ${playersName(instrument, noteName(only + shift))}`
    : `gives the note ${sayShift(shift)}`;
}

function sayShift(shift: number): string {
  const size = Math.abs(shift);
  const named: Readonly<Record<number, string>> = { 1: 'a half step', 2: 'a whole step', 12: 'an octave' };
  return `${named[size] ?? `${size} half steps`} ${shift > 0 ? 'higher' : 'lower'}`;
}

/** Neighbours that are chosen, together; the order is that of the whole list. */
function runsAmong(list: readonly Told[], chosen: ReadonlySet<Told>): Told[][] {
  const runs: Told[][] = [];
  let run: Told[] = [];
  for (const told of list) {
    if (!chosen.has(told)) {
      run = [];
      continue;
    }
    if (run.length === 0) runs.push(run);
    run.push(told);
  }
  return runs;
}

/** "low B flat to low D"; where a note has several standard fingerings and not all are meant, which of them it is. */
function sayRun(instrument: Instrument, run: readonly Told[]): string {
  const names = run.map(({ fingering, standards }) => {
    const name = playersName(instrument, fingering.note);
    const isOneOfSeveral = standards.some((other) => !run.includes(other));
    return isOneOfSeveral && fingering.name !== undefined ? `${name} (${fingering.name})` : name;
  });
  const distinct = [...new Set(names)];
  return distinct.length < 3 ? distinct.join(', ') : `${distinct[0]} to ${distinct.at(-1)}`;
}
