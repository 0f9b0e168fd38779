import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  buildInstrument,
  columnOf,
  FingeringsFile,
  MechanismFile,
  midi,
  predictNote,
  sharedByFailing,
} from '../../src/mechanism/index.ts';

/** A tin whistle in D, six holes that the fingers cover and nothing else: an instrument as data alone. */
const source = ['common practice, no source'];
const holes = [
  ['left', 'index', 'C#6'],
  ['left', 'middle', 'B5'],
  ['left', 'ring', 'A5'],
  ['right', 'index', 'G5'],
  ['right', 'middle', 'F#5'],
  ['right', 'ring', 'E5'],
] as const;
const scale = ['D5', 'E5', 'F#5', 'G5', 'A5', 'B5', 'C#6'];

const mechanism = MechanismFile.parse({
  instrument: {
    id: 'tin-whistle',
    name: 'Tin whistle in D',
    family: 'whistle',
    acoustics: 'open-cylinder',
    transposition: { semitones: 0, sounds: 'C' },
    range: { lowest: 'D5', highest: 'B6' },
    source,
  },
  vents: holes.map(([hand, finger, note]) => ({
    id: `hole.${hand}-${finger}`,
    name: `${hand} ${finger} hole`,
    alsoCalled: [],
    cover: 'finger',
    rest: 'open',
    note,
    spring: 'opens',
    presence: 'all',
    source,
  })),
  touches: holes.map(([hand, finger]) => ({
    id: `touch.${hand}-${finger}`,
    name: `${hand} ${finger} finger`,
    hand,
    finger,
    moves: [{ part: `hole.${hand}-${finger}`, action: 'closes' }],
    source,
  })),
  keys: [],
  links: [],
  joints: [],
  bores: [],
  causes: [],
});
const fingered = (covered: number) =>
  holes.slice(0, covered).map(([hand, finger]) => `touch.${hand}-${finger}`);
const low = scale.map((note, index) => ({ note, register: 1, touches: fingered(6 - index) }));
const high = ['D6', 'E6', 'F#6', 'G6', 'A6', 'B6'].map((note, index) => ({
  note,
  register: 2,
  touches: fingered(6 - index),
}));
const fingerings = FingeringsFile.parse({
  fingerings: [...low, ...high].map((fingering) => ({
    id: `fg.${fingering.note.replace('#', 's')}`,
    kind: 'standard',
    source,
    ...fingering,
  })),
  playTest: { order: low.map(({ note }) => `fg.${note.replace('#', 's')}`), source },
});
const whistle = buildInstrument(mechanism, fingerings);

describe('a toy instrument made of data alone', () => {
  it('speaks every note through the hole that gives it', () => {
    for (const fingering of whistle.fingerings) {
      expect(predictNote(whistle, fingering, [])).toMatchObject({ degree: 'none', sounded: null });
      const { firstOpen } = columnOf(whistle, fingering.touches);
      const vented = firstOpen === null ? whistle.range.lowest : whistle.vent(firstOpen).note!;
      expect(midi(vented) + 12 * (fingering.register - 1)).toBe(midi(fingering.note));
    }
  });

  it('has for each hole the one fault that a hole under a finger can have', () => {
    expect(whistle.faults.map(({ id }) => id)).toEqual(
      holes.map(([hand, finger]) => `uncovered@hole.${hand}-${finger}`),
    );
  });

  it('suffers below an uncovered hole and nowhere above it', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...whistle.faults),
        fc.constantFrom(...whistle.fingerings),
        (fault, fingering) => {
          const effect = predictNote(whistle, fingering, [{ fault, severity: 'gross' }]);
          const suffers = effect.degree !== 'none' || effect.sounded !== null;
          const needsIt = partsClosed(fingering.touches).includes(fault.place);
          if (!needsIt) expect(suffers).toBe(false);
          else if (fingering.register === 1) expect(suffers).toBe(true);
        },
      ),
    );
  });

  it('tells what the failing notes share', () => {
    const play = (note: string) => whistle.fingerings.find((fingering) => fingering.note === note)!;
    const shared = sharedByFailing(whistle, [play('D5'), play('E5')], [play('F#5'), play('G5')]);
    expect(shared.map(({ part }) => part)).toContain('hole.right-middle');
  });
});

function partsClosed(touches: readonly string[]): readonly string[] {
  return touches.map((touch) => touch.replace('touch.', 'hole.'));
}
