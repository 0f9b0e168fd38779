/** The written notes of an instrument as people name them: which note a bare letter, "low D" or "the palm notes" means. */
import { type Fingering, type Instrument, midi } from '../mechanism/index.ts';
import type { Level, Take } from './schema.ts';

/** Notes are MIDI numbers as written. */
export type NoteBook = {
  readonly instrument: Instrument;
  /** Standard fingerings, low to high, one for each note. */
  readonly standard: readonly Fingering[];
  fingeringOf(number: number): Fingering | null;
  /**
   * The note that a name means, and the others that it might. A bare letter is the note of its home octave, or beside a
   * note that was just named (`near`) the one next to it.
   */
  namedBy(
    pitchClass: number,
    level: Level | null,
    near?: number | null,
  ): { readonly note: number | null; readonly others: readonly number[] };
  /** All notes of this name, low to high. */
  called(pitchClass: number): readonly number[];
  /** The notes of a stretch that nearly every instrument of this kind has, low to high. */
  stretch(take: Take): readonly Fingering[];
  /** Played with parts that every instrument of this kind has. */
  isEverywhere(fingering: Fingering): boolean;
};

const OCTAVE = 12;
/** "D and C": a neighbour is at most so many semitones off where the home octave's note is farther than this. */
const NEIGHBOUR = { near: 4, far: 7 };

const books = new WeakMap<Instrument, NoteBook>();

/** The note book of an instrument; built once. */
export function noteBookOf(instrument: Instrument): NoteBook {
  const known = books.get(instrument) ?? buildNoteBook(instrument);
  books.set(instrument, known);
  return known;
}

function buildNoteBook(instrument: Instrument): NoteBook {
  const byNumber = new Map<number, Fingering>();
  for (const fingering of instrument.fingerings) {
    const number = midi(fingering.note);
    if (fingering.kind === 'standard' && !byNumber.has(number)) byNumber.set(number, fingering);
  }
  const numbers = [...byNumber.keys()].sort((one, other) => one - other);
  const standard = numbers.map((number) => byNumber.get(number)!);
  const homes = new Set(
    numbers.filter((number) => hasUpperTwin(byNumber.get(number)!, byNumber.get(number + OCTAVE))),
  );
  const optional = new Set(instrument.vents.filter(({ presence }) => presence !== 'all').map(({ id }) => id));
  // A touch that moves other things too is there on every instrument.
  const rare = new Set(
    instrument.touches
      .filter(({ moves }) => moves.every(({ part }) => optional.has(part)))
      .map(({ id }) => id),
  );
  const isEverywhere = ({ touches }: Fingering) => !touches.some((touch) => rare.has(touch));
  const called = (pitchClass: number) => numbers.filter((number) => number % OCTAVE === pitchClass);

  return {
    instrument,
    standard,
    called,
    isEverywhere,
    fingeringOf: (number) => byNumber.get(number) ?? null,
    namedBy(pitchClass, level, near = null) {
      const all = called(pitchClass);
      const home = all.find((number) => homes.has(number)) ?? all[0] ?? null;
      if (level === null) {
        const note = besides(all, home, near);
        const others = [all[0], home, home === null ? undefined : home + OCTAVE].filter(
          (number): number is number => number != null && number !== note && all.includes(number),
        );
        return { note, others: [...new Set(others)] };
      }
      return { note: atLevel(all, home, level, byNumber), others: [] };
    },
    stretch: (take) =>
      standard.filter(
        (fingering) => isEverywhere(fingering) && isTaken(instrument, numbers, fingering, take),
      ),
  };
}

function besides(all: readonly number[], home: number | null, near: number | null): number | null {
  if (near === null || home === null || Math.abs(home - near) <= NEIGHBOUR.far) return home;
  return all.find((number) => Math.abs(number - near) <= NEIGHBOUR.near) ?? home;
}

/** The same fingers give the upper note once the register key is added. */
function hasUpperTwin(fingering: Fingering, upper: Fingering | undefined): boolean {
  if (upper === undefined || upper.register !== fingering.register + 1) return false;
  return fingering.touches.every((touch) => upper.touches.includes(touch));
}

/** Of three notes of a name the second is the middle one, of four the third the upper one; of two, the one of the home octave is middle. */
function atLevel(
  all: readonly number[],
  home: number | null,
  { place, register, span }: Level,
  byNumber: ReadonlyMap<number, Fingering>,
): number | null {
  if (register !== undefined)
    return all.find((number) => byNumber.get(number)!.register === register) ?? null;
  if (span !== undefined)
    return all.find((number) => number >= midi(span.from) && number <= midi(span.to)) ?? null;
  if (place === 'lowest') return all[0] ?? null;
  if (place === 'upper' && all.length > 3) return all[2]!;
  if (place === 'highest' || place === 'upper') return all.at(-1) ?? null;
  return all.length > 2 ? all[Math.floor((all.length - 1) / 2)]! : home;
}

function isTaken(
  instrument: Instrument,
  numbers: readonly number[],
  fingering: Fingering,
  take: Take,
): boolean {
  const number = midi(fingering.note);
  switch (take.by) {
    case 'share': {
      const share = (number - numbers[0]!) / (numbers.at(-1)! - numbers[0]!);
      return share >= take.from && share <= take.to;
    }
    case 'register':
      return fingering.register === take.register;
    case 'span':
      return (
        (take.from === undefined || number >= midi(take.from)) &&
        (take.to === undefined || number <= midi(take.to))
      );
    case 'touch':
      return instrument.touches.some(
        (touch) =>
          fingering.touches.includes(touch.id) &&
          (take.hand === undefined || take.hand === touch.hand) &&
          (take.fingers === undefined || take.fingers.includes(touch.finger)) &&
          (take.part === undefined || take.part === (touch.part ?? 'neither')),
      );
  }
}

/** Of a row, so many at even distances, both ends among them. */
export function spreadOver<Item>(row: readonly Item[], most: number): Item[] {
  if (row.length <= most) return [...row];
  return Array.from(
    { length: most },
    (_, index) => row[Math.round((index * (row.length - 1)) / (most - 1))]!,
  );
}
