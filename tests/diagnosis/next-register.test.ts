import { describe, expect, it } from 'vitest';
import { noteChance } from '../../src/diagnosis/answering.ts';
import { buildDiagnosisModel } from '../../src/diagnosis/index.ts';
import { buildInstrument, midi, nextRegister } from '../../src/mechanism/index.ts';
import { readAlto } from '../mechanism/support/alto.ts';
import { model as alto, knowledge } from './support/alto.ts';

/** The alto's keys on a column that overblows by a twelfth: only the air column differs, so only that can make a difference. */
const { mechanism, fingerings } = readAlto();
const twelfths = buildDiagnosisModel(
  buildInstrument(
    { ...mechanism, instrument: { ...mechanism.instrument, acoustics: 'closed-cylinder' } },
    {
      ...fingerings,
      fingerings: fingerings.fingerings.filter(({ register }) => register === 1),
      playTest: {
        ...fingerings.playTest,
        order: fingerings.playTest.order.filter(
          (id) => fingerings.fingerings.find((one) => one.id === id)?.register === 1,
        ),
      },
    },
  ),
  knowledge,
);

const breaking = { degree: 'severe', octaveUp: true, sounded: null } as const;
const fingered = midi('D4');
const low = alto.instrument.fingering('fg.D4');
const chanceOf = (model: typeof alto, sounded: string) =>
  noteChance(
    model,
    { effect: breaking, fingered, above: nextRegister(model.instrument, low), person: 'director' },
    'wrong',
    midi(sounded),
  );

describe('a note that breaks upward', () => {
  it('is expected in the next register of that instrument: an octave up, or a twelfth', () => {
    expect(alto.instrument.overblow).toBe(12);
    expect(chanceOf(alto, 'D5')).toBeGreaterThan(10 * chanceOf(alto, 'A5'));
    expect(twelfths.instrument.overblow).toBe(19);
    expect(chanceOf(twelfths, 'A5')).toBeGreaterThan(10 * chanceOf(twelfths, 'D5'));
  });
});
