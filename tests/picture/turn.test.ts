import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { drawTurn, eighthsWords } from '../../src/picture/index.ts';
import { alto, layout } from './support/alto.ts';
import { parseMarkup, pathsOf, textsOf } from './support/markup.ts';

const G_SHARP = {
  link: 'link.fsharp-holds-gsharp',
  direction: 'in',
  turnedEighths: 2,
  limitEighths: 8,
} as const;
const draw = (request: Parameters<typeof drawTurn>[2]) => drawTurn(alto, layout, request, { prefix: 'a' });
const countWedges = (svg: string, className: string) =>
  pathsOf(parseMarkup(svg), className).split('M').length - 1;

describe('the picture of a screw to turn', () => {
  const { svg, words } = draw(G_SHARP);
  const tags = parseMarkup(svg);

  test('says what joins what, the direction, the look-alike, the turns made and the limit', () => {
    expect(words).toContain('by which the F sharp bar works the G sharp cup');
    expect(words).toContain('in, clockwise');
    expect(words).toContain('Not the screw beside it that looks alike (F sharp bar to the bis cup)');
    expect(words).toContain('2 of 8 eighths (a quarter turn); 6 left, then stop');
  });

  test('shows the same: a slotted screw, the word "turn", the look-alike crossed out and named as wrong', () => {
    expect(textsOf(tags, 'turn-word')).toEqual(['turn in']);
    expect(textsOf(tags, 'not-word')).toEqual(['not this one']);
    for (const mark of ['screw', 'screw-slot', 'other', 'not', 'cross'])
      expect(pathsOf(tags, mark)).not.toBe('');
    expect(textsOf(tags, 'name-word').join(' ')).toBe('G sharp cup F sharp bar');
    expect(textsOf(tags, 'strong')).toEqual(['Turn this screw in, clockwise.', 'stop', '2 of 8 eighths']);
  });

  test('has no look-alike where the mechanism names none', () => {
    const plain = draw({ ...G_SHARP, link: 'link.e-closes-fsharp' });
    expect(textsOf(parseMarkup(plain.svg), 'not-word')).toEqual([]);
    expect(plain.words).not.toContain('looks alike');
  });

  test('turns its arrow and its dial the other way for out', () => {
    const out = draw({ ...G_SHARP, direction: 'out' });
    expect(out.words).toContain('out, anticlockwise');
    for (const mark of ['turn', 'done']) {
      expect(pathsOf(parseMarkup(out.svg), mark)).not.toBe(pathsOf(tags, mark));
    }
  });

  test('stays below 16 kB for every screw', () => {
    for (const link of alto.links.filter(({ adjuster }) => adjuster.kind === 'screw')) {
      expect(Buffer.byteLength(draw({ ...G_SHARP, link: link.id }).svg), link.id).toBeLessThan(16_000);
    }
  });
});

describe('the dial', () => {
  test('draws as many eighths as the limit has, and fills those that are done', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 8 }), fc.nat(), (limitEighths, seed) => {
        const turnedEighths = seed % (limitEighths + 1);
        const { svg } = draw({ ...G_SHARP, turnedEighths, limitEighths });
        expect(countWedges(svg, 'dial')).toBe(limitEighths);
        expect(countWedges(svg, 'done')).toBe(turnedEighths);
        expect(countWedges(svg, 'next')).toBe(turnedEighths === limitEighths ? 0 : 1);
      }),
    );
  });

  test('says stop at the limit, in the picture and in words', () => {
    const { svg, words } = draw({ ...G_SHARP, turnedEighths: 8 });
    expect(words).toContain('8 of 8 eighths (one full turn); stop here');
    expect(textsOf(parseMarkup(svg), 'head')).toContain('turned: stop here');
  });

  test('fills half an eighth for the fine last turns', () => {
    const { svg, words } = draw({ ...G_SHARP, turnedEighths: 0.5 });
    expect(countWedges(svg, 'done')).toBe(1);
    expect(countWedges(svg, 'next')).toBe(1);
    expect(words).toContain('0.5 of 8 eighths (half an eighth of a turn)');
  });

  test('counts full turns when the limit is more than one, and shows the bar only in the last', () => {
    const first = draw({ ...G_SHARP, turnedEighths: 3, limitEighths: 12 });
    const second = draw({ ...G_SHARP, turnedEighths: 9, limitEighths: 12 });
    expect(textsOf(parseMarkup(first.svg), 'head')).toContain('(full turn 1 of 2)');
    expect(pathsOf(parseMarkup(first.svg), 'stop')).toBe('');
    expect(textsOf(parseMarkup(second.svg), 'head')).toContain('(full turn 2 of 2)');
    expect(pathsOf(parseMarkup(second.svg), 'stop')).not.toBe('');
    expect(countWedges(second.svg, 'dial')).toBe(4);
  });
});

describe('a request that makes no sense is refused', () => {
  test.each([
    ['more turned than the limit', { ...G_SHARP, turnedEighths: 9 }, /between 0 and 8/],
    ['a count in thirds', { ...G_SHARP, turnedEighths: 1 / 3 }, /steps of 0\.5/],
    ['no limit', { ...G_SHARP, limitEighths: 0, turnedEighths: 0 }, /whole number from 1 to 24/],
    ['an unknown link', { ...G_SHARP, link: 'link.none' }, /link\.none/],
    [
      'a link without a screw',
      { ...G_SHARP, link: 'link.neck-ring' },
      /ring, not by a screw; draw it with drawPart/,
    ],
  ])('%s', (_, request, message) => {
    expect(() => draw(request)).toThrow(message);
  });
});

test('counts of eighths read as people say them, and no two alike', () => {
  expect([0, 0.5, 1, 2, 3, 4, 6, 8, 9, 12, 16].map(eighthsWords)).toEqual([
    'nothing',
    'half an eighth of a turn',
    'an eighth of a turn',
    'a quarter turn',
    'three eighths of a turn',
    'half a turn',
    'three quarters of a turn',
    'one full turn',
    'nine eighths of a turn',
    'one and a half turns',
    'two full turns',
  ]);
  const all = Array.from({ length: 49 }, (_, step) => eighthsWords(step / 2));
  expect(new Set(all).size).toBe(49);
});
