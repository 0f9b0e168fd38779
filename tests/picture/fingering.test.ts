import { describe, expect, test } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import { drawFingering, fingeringWords } from '../../src/picture/index.ts';
import { alto, copyLayout, layout } from './support/alto.ts';
import { parseMarkup, pathsOf, type Tag, textsOf } from './support/markup.ts';

const content = loadContent(new URL('../../flows', import.meta.url).pathname);
/** How wide the play test shows it on a phone (.note > .drawing in notes.css), in pixels. */
const SHOWN = 153;
const draw = (id: string) => drawFingering(alto, layout, alto.fingering(id), { prefix: 'a' });
const countShapes = (tags: readonly Tag[], className: string) =>
  pathsOf(tags, className).split('M').length - 1;

describe('the picture of a fingering', () => {
  test.each(alto.fingerings.map((fingering) => [fingering.id, fingering] as const))(
    'of %s fills its own touches, names each, and leaves all others open',
    (id, fingering) => {
      const tags = parseMarkup(draw(id).svg);
      const labels = fingering.touches.map((touch) => layout.touches[touch]!.label);
      expect([...textsOf(tags, 'on'), ...textsOf(tags, 'beside')].toSorted()).toEqual(labels.toSorted());
      expect(countShapes(tags, 'pressed')).toBe(fingering.touches.length);
      const open = countShapes(tags, 'touch') + countShapes(tags, 'hidden');
      expect(open).toBe(alto.touches.length - fingering.touches.length);
    },
  );

  test('fills a touch where that touch lies in the hand, and nowhere else', () => {
    const shapeOf = (touch: string) =>
      pathsOf(
        parseMarkup(drawFingering(alto, layout, { note: 'C4', touches: [touch] }, { prefix: 'a' }).svg),
        'pressed',
      );
    const shapes = alto.touches.map((touch) => shapeOf(touch.id));
    expect(new Set(shapes).size).toBe(alto.touches.length);
    const lowC = pathsOf(parseMarkup(draw('fg.C4').svg), 'pressed');
    const isFilled = alto.touches
      .filter((_, index) => lowC.includes(shapes[index]!))
      .map((touch) => touch.id);
    expect(isFilled.toSorted()).toEqual(alto.fingering('fg.C4').touches.toSorted());
  });

  test('puts the left hand before the right hand, beside or above it', () => {
    const sizeOf = (arrangement: 'beside' | 'above') => {
      const { svg } = drawFingering(alto, layout, alto.fingering('fg.D4'), { prefix: 'a', arrangement });
      return parseMarkup(svg)[0]!.attributes.get('viewBox')!.split(' ').map(Number);
    };
    const [, , besideWidth, besideHeight] = sizeOf('beside');
    const [, , aboveWidth, aboveHeight] = sizeOf('above');
    expect(besideWidth).toBeGreaterThan(aboveWidth!);
    expect(aboveHeight).toBeGreaterThan(besideHeight!);
  });

  test.each([...content.instruments])(
    'of a %s has no letter that is too small to be read where a phone shows it',
    (_, { instrument, layout }) => {
      const sizes = instrument.fingerings.flatMap((fingering) => {
        const { svg } = drawFingering(instrument, layout, fingering, { prefix: 'a' });
        const width = Number(parseMarkup(svg)[0]!.attributes.get('viewBox')!.split(' ')[2]);
        return [...svg.matchAll(/font-size="([\d.]+)"/g)].map(([, size]) => (Number(size) * SHOWN) / width);
      });
      expect(Math.min(...sizes)).toBeGreaterThanOrEqual(12);
    },
  );

  test('stays below 2.5 kB, so that thirty-three fit on a page', () => {
    const sizes = alto.fingerings.map(({ id }) => Buffer.byteLength(draw(id).svg));
    expect(Math.max(...sizes)).toBeLessThan(2500);
  });

  test('moves with the layout', () => {
    const changed = copyLayout();
    changed.touches['touch.lh1']!.finger.at = [66, 27];
    const { svg } = drawFingering(alto, changed, alto.fingering('fg.B4'), { prefix: 'a' });
    expect(svg).not.toBe(draw('fg.B4').svg);
  });

  test('is refused for a touch that the instrument does not have, which is named', () => {
    const fingering = { note: 'C4', touches: ['touch.lh1', 'touch.thumb9'] };
    expect(() => drawFingering(alto, layout, fingering, { prefix: 'a' })).toThrow(
      /no touch "touch\.thumb9"; known: touch\./,
    );
  });
});

describe('a fingering in words', () => {
  test.each([
    ['fg.C4', 'Left hand 1 2 3, right hand 1 2 3, low C'],
    ['fg.Cs4', 'Left hand 1 2 3, low C sharp, right hand 1 2 3, low C'],
    ['fg.Gs5', 'Octave key, left hand 1 2 3, G sharp'],
    ['fg.Fs4', 'Left hand 1 2 3, right hand 2'],
    ['fg.Bb4-bis', 'Left hand 1, bis'],
    ['fg.Cs5', 'No touches, all keys up'],
  ])('says %s as players do', (id, words) => {
    expect(fingeringWords(alto, alto.fingering(id))).toBe(words);
  });

  test('is the text alternative of the picture', () => {
    const { svg, words } = draw('fg.C4');
    expect(words).toBe('Left hand 1 2 3, right hand 1 2 3, low C');
    const tags = parseMarkup(svg);
    expect(tags.find((tag) => tag.name === 'desc')!.text).toBe(words);
    expect(tags.find((tag) => tag.name === 'title')!.text).toBe('Fingering for C 4');
  });

  test('differs for fingerings that press different touches', () => {
    const words = new Map(alto.fingerings.map((f) => [f.touches.toSorted().join(), fingeringWords(alto, f)]));
    expect(new Set(words.values()).size).toBe(words.size);
  });
});
