/** The tube of a brass instrument in index form: which valves a fingering presses, and which tubing the air then passes. */
import { midi } from './notes.ts';
import type { FingeringEntry, MechanismFile } from './schema.ts';
import { partialAt, semitonesOfPartial } from './tube-length.ts';
import type { Slide, TubeFile, Valve, WaterKey } from './tube-schema.ts';

/** Two pistons that can have been put back into each other's casings. */
export type ValvePair = {
  readonly id: string;
  readonly name: string;
  readonly valves: readonly [number, number];
};

/** Which valves must be down and up for the air to pass a slide, by index. */
export type Passage = { readonly down: readonly number[]; readonly up: readonly number[] };

/** A part of the tube: its sort, and its index in the list of that sort. */
export type TubePlace = { readonly sort: 'valve' | 'slide' | 'water-key' | 'pair'; readonly index: number };

/** Built once, used for every prediction; not to be changed. */
export type Tube = {
  readonly valves: readonly Valve[];
  readonly slides: readonly Slide[];
  readonly waterKeys: readonly WaterKey[];
  readonly pairs: readonly ValvePair[];
  /** MIDI number, as written, of the first partial of the tube without any tubing that lowers. */
  readonly fundamental: number;
  readonly passages: readonly Passage[];
  /** Per water key: the slide that it stands on. */
  readonly waterKeySlides: readonly number[];
  /** Valves by the touch that presses them. */
  readonly valvesOf: ReadonlyMap<string, readonly number[]>;
  /** Valves, slides, water keys and pairs by their ids. */
  readonly places: ReadonlyMap<string, TubePlace>;
};

/** The pairs of pistons that can be exchanged: any two, since they look alike. Rotors are matched to their casings at the bench. */
export function pairsOf({ valves }: TubeFile): ValvePair[] {
  const shortName = (name: string) => name.replace(/ valve$/, '');
  return valves.flatMap((one, index) =>
    valves.slice(index + 1).flatMap((other, offset): ValvePair[] => {
      if (one.sort !== 'piston' || other.sort !== 'piston') return [];
      const id = `pair.${one.id.split('.')[1]}-${other.id.split('.')[1]}`;
      const name = `${shortName(one.name)} and ${shortName(other.name)} valves`;
      return [{ id, name, valves: [index, index + 1 + offset] }];
    }),
  );
}

/** Turns checked data into index form. References must hold (see findBrokenTube). */
export function buildTube(file: TubeFile, { touches }: Pick<MechanismFile, 'touches'>): Tube {
  const pairs = pairsOf(file);
  const { valves, slides, waterKeys } = file;
  const numbers = new Map(valves.map(({ id }, index) => [id, index]));
  const list = (ids: readonly string[]) => ids.map((id) => numbers.get(id)!);
  return {
    valves,
    slides,
    waterKeys,
    pairs,
    fundamental: midi(file.fundamental),
    passages: slides.map(({ down, up }) => ({ down: list(down), up: list(up) })),
    waterKeySlides: waterKeys.map(({ on }) => slides.findIndex(({ id }) => id === on)),
    valvesOf: new Map(touches.map(({ id, moves }) => [id, list(moves.map(({ part }) => part))])),
    places: new Map([
      ...placesOf('valve', valves),
      ...placesOf('slide', slides),
      ...placesOf('water-key', waterKeys),
      ...placesOf('pair', pairs),
    ]),
  };
}

function placesOf(sort: TubePlace['sort'], parts: readonly { readonly id: string }[]): [string, TubePlace][] {
  return parts.map(({ id }, index) => [id, { sort, index }]);
}

/** What a fingering does on a sound instrument. */
export type TubePlan = {
  /** Per valve: whether the fingering presses it. */
  readonly down: readonly boolean[];
  readonly position: number;
  /** Semitones by which the tubing in use lowers. */
  readonly lowers: number;
  /** The partial that stands for the fingered note; null where the tube gives none there. */
  readonly partial: number | null;
  /** MIDI number of the fingered note, as written. */
  readonly note: number;
};

type Fingers = Pick<FingeringEntry, 'note' | 'touches' | 'position'>;

/** What a fingering does: valves, tubing, partial. @throws RangeError for a touch that the instrument has not. */
export function planOnTube(tube: Tube, { note, touches, position = 1 }: Fingers): TubePlan {
  const pressed = new Set(
    touches.flatMap((touch) => {
      const valves = tube.valvesOf.get(touch);
      if (valves === undefined) throw new RangeError(`This instrument has no touch "${touch}"`);
      return valves;
    }),
  );
  const down = tube.valves.map((_, index) => pressed.has(index));
  const lowers = loweringOf(tube, down, position);
  const number = midi(note);
  return { down, position, lowers, partial: partialAt(number - tube.fundamental + lowers), note: number };
}

/**
 * Semitones from the note of a fingering to the neighbouring partial of the same length of tube, to the nearest note: below 0
 * for the one beneath. Under the first partial there is none, and nothing is added.
 * @param step 1 for the partial above, -1 for the one below
 * @throws RangeError for a touch that the instrument has not.
 */
export function stepOfPartials(tube: Tube, fingers: Fingers, step: 1 | -1): number {
  const { partial } = planOnTube(tube, fingers);
  if (partial === null || partial + step < 1) return 0;
  return semitonesOfPartial(partial + step) - semitonesOfPartial(partial);
}

/** Semitones by which the tubing in use lowers, with these valves down and the playing slide at this position. */
export function loweringOf(tube: Tube, down: readonly boolean[], position: number): number {
  return tube.slides.reduce((sum, slide, index) => {
    if (!isPassed(tube, index, down)) return sum;
    return sum + slide.lowers + (slide.positions === undefined ? 0 : position - 1);
  }, 0);
}

/** Whether the air goes through a slide with these valves down. */
export function isPassed(tube: Tube, slide: number, down: readonly boolean[]): boolean {
  const passage = tube.passages[slide]!;
  return passage.down.every((valve) => down[valve]) && passage.up.every((valve) => !down[valve]);
}

/** To how many positions the slide is drawn in playing; 1 where there is no such slide. */
export function positionsOf({ slides }: Pick<Tube, 'slides'>): number {
  return Math.max(1, ...slides.map(({ positions }) => positions ?? 1));
}

const POSITIONS = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh'];

/** What players call a position of the slide: 1 is the first. */
export function positionName(position: number): string {
  return POSITIONS[position - 1]!;
}

/**
 * The octave of the harmonic series in which a partial lies, as a register: the 2nd and 3rd are the first, from the 4th the
 * second, from the 8th the third.
 */
export function registerOfPartial(partial: number): 1 | 2 | 3 {
  return partial < 4 ? 1 : partial < 8 ? 2 : 3;
}
