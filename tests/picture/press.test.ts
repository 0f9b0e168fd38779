import { describe, expect, test } from 'vitest';
import { drawPress } from '../../src/picture/index.ts';
import { alto, layout } from './support/alto.ts';
import { parseMarkup, pathsOf, textsOf } from './support/markup.ts';

const draw = (id: string) => drawPress(alto, layout, alto.fingering(id), { prefix: 'a' });

describe('the picture of touches to press', () => {
  test.each(alto.fingerings.map((fingering) => [fingering.id, fingering.touches] as const))(
    'of %s fills each touch twice: on the instrument, and in the hand that presses it',
    (id, touches) => {
      const shapes = pathsOf(parseMarkup(draw(id).svg), 'pressed').split('M').length - 1;
      expect(shapes).toBe(touches.length * 2);
    },
  );

  test('shows on the instrument where each hand lies, and names it', () => {
    const tags = parseMarkup(draw('fg.C4').svg);
    expect(textsOf(tags, 'name-word')).toEqual(['left', 'right']);
    expect(textsOf(tags, 'hand')).toEqual(['left hand', 'right hand']);
  });

  test('says the same in words, above the drawing and as its text alternative', () => {
    const { svg, words } = draw('fg.C4');
    expect(words).toBe(`Press left hand 1 2 3, right hand 1 2 3, low C. ${layout.seen}`);
    expect(textsOf(parseMarkup(svg), 'strong').join(' ').replaceAll('\u00a0', ' ')).toBe(
      'Press left hand 1 2 3, right hand 1 2 3, low C',
    );
    expect(draw('fg.Cs5').words).toContain('Press no touches, all keys up');
  });

  test('stays below 16 kB', () => {
    for (const { id } of alto.fingerings) expect(Buffer.byteLength(draw(id).svg), id).toBeLessThan(16_000);
  });
});
