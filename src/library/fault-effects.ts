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

/**
 * What a fault does to the fingerings, those that suffer alike together, from low to high; and which other fingerings are
 * spared although the standard one of their note is not. Empty when no note changes.
 * @param fault one of the instrument's own
 */
export function effectsOf(instrument: Instrument, fault: Fault): Pick<FaultView, 'effects' | 'spared'> {
  const placed = [{ fault, severity: severityTold(fault) }];
  const groups = new Map<string, { effect: Effect; fingerings: Fingering[] }>();
  const keyOf = new Map<Fingering, string>();
  const fingerings = fromLowToHigh(instrument.fingerings);
  for (const fingering of fingerings) {
    const { degree, octaveUp, sounded } = predictNote(instrument, fingering, placed);
    if (degree === 'none' && sounded === null) continue;
    const shift = sounded === null ? null : sounded - midi(fingering.note);
    const key = `${degree} ${octaveUp} ${shift}`;
    const group = groups.get(key) ?? { effect: { degree, nextRegister: octaveUp, shift }, fingerings: [] };
    group.fingerings.push(fingering);
    groups.set(key, group);
    keyOf.set(fingering, key);
  }
  const standard = fingerings.filter(isStandard);
  const standardsOf = (fingering: Fingering) =>
    standard.filter(({ note }) => midi(note) === midi(fingering.note));
  /** Nothing need be said of a fingering that fares like the standard one of its note. */
  const isLikeStandard = (fingering: Fingering) =>
    standardsOf(fingering).some((other) => keyOf.get(other) === keyOf.get(fingering));
  const effects = [...groups.values()].map(({ effect, fingerings: same }) => {
    const runs = runsAmong(standard, new Set(same)).map((run) => sayRun(instrument, standard, run));
    const others = same
      .filter((one) => !isStandard(one) && !isLikeStandard(one))
      .map((one) => fingeringName(instrument, one));
    return {
      ...effect,
      how: sayHow(instrument, effect, same),
      fingerings: same.map(({ id }) => id),
      notes: [runs.join(', '), ...others].filter((part) => part !== '').join('; '),
    };
  });
  const spared = fingerings.filter(
    (one) =>
      one.kind === 'alternate' && !keyOf.has(one) && !isLikeStandard(one) && standardsOf(one).length > 0,
  );
  return { effects, spared: spared.map((one) => fingeringName(instrument, one)).join('; ') };
}

const isStandard = ({ kind }: Fingering): boolean => kind === 'standard';

function sayHow(
  instrument: Instrument,
  { degree, nextRegister, shift }: Effect,
  fingerings: readonly Fingering[],
): string {
  const parts = [
    shift === null ? null : sayOther(instrument, shift, fingerings),
    degree === 'none' ? 'cleanly' : degree,
    nextRegister ? 'tends up to the next register' : null,
  ];
  return parts.filter((part) => part !== null).join(', ');
}

/** The note that comes instead: by its name where it is one, else by the step from the note that is meant. */
function sayOther(instrument: Instrument, shift: number, fingerings: readonly Fingering[]): string {
  const notes = new Set(fingerings.map(({ note }) => midi(note)));
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

function fromLowToHigh(fingerings: readonly Fingering[]): Fingering[] {
  return fingerings.toSorted((one, other) => midi(one.note) - midi(other.note));
}

/** Neighbours that are chosen, together; the order is that of the whole list. */
function runsAmong(list: readonly Fingering[], chosen: ReadonlySet<Fingering>): Fingering[][] {
  const runs: Fingering[][] = [];
  let run: Fingering[] = [];
  for (const fingering of list) {
    if (!chosen.has(fingering)) {
      run = [];
      continue;
    }
    if (run.length === 0) runs.push(run);
    run.push(fingering);
  }
  return runs;
}

/** "low B flat to low D"; where a note has several standard fingerings and not all are meant, which of them it is. */
function sayRun(instrument: Instrument, standard: readonly Fingering[], run: readonly Fingering[]): string {
  const say = (fingering: Fingering): string => {
    const name = playersName(instrument, fingering.note);
    const isOneOfSeveral = standard.some(
      (other) => midi(other.note) === midi(fingering.note) && !run.includes(other),
    );
    return isOneOfSeveral && fingering.name !== undefined ? `${name} (${fingering.name})` : name;
  };
  const names = [...new Set(run.map(say))];
  return names.length < 3 ? names.join(', ') : `${names[0]} to ${names.at(-1)}`;
}
