import { describe, expect, test } from 'vitest';
import { readComplaint } from '../../src/complaint/index.ts';
import { instrumentOf, tell, vocabulary } from './support/reading.ts';

const { instrument, model } = instrumentOf('flute');

/** The findings of the likely readings of a flute player’s words. */
function likely(text: string): string[] {
  return readComplaint(instrument, model, vocabulary, text)
    .proposals.filter(({ isLikely }) => isLikely)
    .flatMap(({ findings }) => findings.map(tell));
}

describe('complaints about flutes', () => {
  test.each([
    ['low F is airy', ['F4=unsteady']],
    ['low C# only air', ['C#4=silent']],
    ['E and F sharp are flat and dull', ['E4=unsteady', 'F#4=unsteady']],
    ['middle D sounds with the lower octave', ['D5=unsteady']],
    ['the headjoint is turned', ['look-headjoint-line@setup.lip-plate=turned']],
    ['the foot joint is crooked', ['look-foot-line@setup.foot-line=turned']],
    ['another head joint helps', ['other-headjoint@instrument=better']],
    ['the cork has moved', ['rod-mark@setup.cork-place=beside']],
    ['the foot joint is loose', ['wobble@joint.foot=moves']],
    ['the G sharp key sticks', ['lift@cup.gsharp=tacky']],
  ])('%s', (text, findings) => {
    expect(likely(text)).toEqual(findings);
  });
});
