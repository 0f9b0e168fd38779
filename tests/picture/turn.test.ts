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
  nowEighths: 2,
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
    expect(words).toContain('Now 2 eighths (a quarter turn), then stop and test');
    expect(words).toContain('Turned so far: 2 of 8 eighths (a quarter turn)');
  });

  test('shows the same: a slotted screw, the word "turn", the look-alike crossed out and named as wrong', () => {
    expect(textsOf(tags, 'turn-word')).toEqual(['turn in']);
    expect(textsOf(tags, 'not-word')).toEqual(['not this one']);
    for (const mark of ['screw', 'screw-slot', 'other', 'not', 'cross'])
      expect(pathsOf(tags, mark)).not.toBe('');
    expect(textsOf(tags, 'name-word').join(' ')).toBe('G sharp cup F sharp bar');
    expect(textsOf(tags, 'strong')).toEqual(['Turn this screw in, clockwise.', 'stop', 'now 2 eighths']);
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
  /** Any limit, any turns made, and any step on or back that stays between none and the limit. */
  const readings = fc
    .record({ limitEighths: fc.integer({ min: 1, max: 8 }), turned: fc.nat(), next: fc.nat() })
    .map(({ limitEighths, turned, next }) => {
      const turnedEighths = turned % (limitEighths + 1);
      return { limitEighths, turnedEighths, nowEighths: (next % (limitEighths + 1)) - turnedEighths };
    });

  test('draws as many eighths as the limit has, fills those that are done, and marks those to turn now', () => {
    fc.assert(
      fc.property(readings, (reading) => {
        const { svg } = draw({ ...G_SHARP, ...reading });
        expect(countWedges(svg, 'dial')).toBe(reading.limitEighths);
        expect(countWedges(svg, 'done')).toBe(reading.turnedEighths);
        expect(countWedges(svg, 'next')).toBe(Math.max(0, reading.nowEighths));
        expect(countWedges(svg, 'undo')).toBe(Math.max(0, -reading.nowEighths));
      }),
    );
  });

  test('says the same in words as in the picture, whichever way it goes', () => {
    fc.assert(
      fc.property(readings, fc.constantFrom('in', 'out'), (reading, direction) => {
        const { svg, words } = draw({ ...G_SHARP, ...reading, direction });
        const way = (direction === 'in') === reading.nowEighths >= 0 ? 'in, clockwise' : 'out, anticlockwise';
        const texts = parseMarkup(svg).map(({ text }) => text);
        expect(words).toContain(way);
        expect(texts.some((text) => text.includes(`${way}.`))).toBe(true);
        expect(words).toContain(`${reading.turnedEighths} of ${reading.limitEighths} eighths`);
        expect(texts).toContain(`so far: ${reading.turnedEighths} of ${reading.limitEighths} eighths`);
      }),
    );
  });

  test('says stop at the limit, in the picture and in words', () => {
    const { svg, words } = draw({ ...G_SHARP, turnedEighths: 8, nowEighths: 0 });
    expect(words).toContain('Stop here. Turned so far: 8 of 8 eighths (one full turn)');
    expect(textsOf(parseMarkup(svg), 'strong')).toContain('stop here');
    expect(draw({ ...G_SHARP, turnedEighths: 6 }).words).toContain('that is the limit');
  });

  test('fills half an eighth for the fine last turns', () => {
    const { svg, words } = draw({ ...G_SHARP, turnedEighths: 0.5, nowEighths: 0.5 });
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

describe('turning back', () => {
  const back = draw({ ...G_SHARP, turnedEighths: 3, nowEighths: -1 });

  test('turns the arrows the other way, and leaves the eighths where they were turned', () => {
    const on = parseMarkup(draw({ ...G_SHARP, turnedEighths: 3 }).svg);
    const tags = parseMarkup(back.svg);
    expect(pathsOf(tags, 'done')).toBe(pathsOf(on, 'done'));
    for (const mark of ['turn', 'dial-arrow']) expect(pathsOf(tags, mark)).not.toBe(pathsOf(on, mark));
    expect(textsOf(tags, 'turn-word')).toEqual(['turn out']);
    expect(textsOf(tags, 'strong')).toEqual([
      'Turn it back: out, anticlockwise.',
      'start',
      'now 1 eighth back',
    ]);
  });

  test('of a part asks for the test, and of all of it says that it then stands as at first', () => {
    expect(back.words).toContain('back out, anticlockwise');
    expect(back.words).toContain('Now 1 eighth back (an eighth of a turn), then stop and test');
    const all = draw({ ...G_SHARP, turnedEighths: 3, nowEighths: -3 });
    expect(all.words).toContain('Now 3 eighths back (three eighths of a turn), then it stands as at first');
  });

  test('from the end of a full turn shows that turn', () => {
    const { svg } = draw({ ...G_SHARP, turnedEighths: 8, limitEighths: 12, nowEighths: -2 });
    expect(textsOf(parseMarkup(svg), 'head')).toContain('(full turn 1 of 2)');
    expect(countWedges(svg, 'undo')).toBe(2);
  });
});

describe('a request that makes no sense is refused', () => {
  test.each([
    ['more turned than the limit', { ...G_SHARP, turnedEighths: 9 }, /between 0 and 8/],
    [
      'a step over the limit',
      { ...G_SHARP, turnedEighths: 7 },
      /turnedEighths \+ nowEighths must lie between 0 and 8/,
    ],
    ['a step back beyond the start', { ...G_SHARP, nowEighths: -3 }, /not -1/],
    ['a count in thirds', { ...G_SHARP, turnedEighths: 1 / 3 }, /steps of 0\.5/],
    [
      'no limit',
      { ...G_SHARP, limitEighths: 0, turnedEighths: 0, nowEighths: 0 },
      /whole number from 1 to 24/,
    ],
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
