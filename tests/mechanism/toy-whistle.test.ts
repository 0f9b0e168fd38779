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
import { whistleFiles, whistleHoles } from '../support/toy-whistle.ts';

const whistle = buildInstrument(
  MechanismFile.parse(whistleFiles.mechanism),
  FingeringsFile.parse(whistleFiles.fingerings),
);

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
      whistleHoles.map(([hand, finger]) => `uncovered@hole.${hand}-${finger}`),
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
