import { describe, expect, test } from 'vitest';
import { drawWatch } from '../../src/picture/index.ts';
import { alto, LOW_D, layout } from './support/alto.ts';
import { parseMarkup, pathsOf, textsOf } from './support/markup.ts';

const draw = (request: Parameters<typeof drawWatch>[2]) => drawWatch(alto, layout, request, { prefix: 'a' });

describe('the picture of a cup to watch', () => {
  const { svg, words } = draw({ hold: LOW_D, tap: 'touch.gsharp', watch: 'cup.gsharp' });
  const tags = parseMarkup(svg);

  test('says in words what to hold, what to tap and what to watch', () => {
    expect(words).toContain('Hold left hand 1 2 3, right hand 1 2 3 and tap G sharp (left little finger)');
    expect(words).toContain('Watch the G sharp cup: it must stay shut');
    expect(words).toContain(layout.seen);
  });

  test('shows the same: numbers on the held touches, and the words "tap" and "watch" at their marks', () => {
    expect(textsOf(tags, 'on').slice(0, 6).toSorted()).toEqual(['1', '1', '2', '2', '3', '3']);
    expect(textsOf(tags, 'tap-word')).toContain('tap');
    expect(textsOf(tags, 'watch-word')).toEqual(['watch', 'watch']);
    expect(textsOf(tags, 'head')).toEqual([
      'Hold left hand 1\u00a02\u00a03, right hand 1\u00a02\u00a03',
      'Tap G sharp (left little finger)',
      'Watch the G sharp cup',
    ]);
  });

  test('rings the watched cup in the whole and in the detail', () => {
    const rings = tags.filter((tag) => tag.attributes.get('class') === 'picture-watch');
    expect(rings.length).toBe(3); // one explains the sign, one marks the whole, one the detail
    const other = parseMarkup(draw({ hold: LOW_D, tap: 'touch.gsharp', watch: 'cup.f' }).svg);
    expect(pathsOf(other, 'watch')).not.toBe(pathsOf(tags, 'watch'));
  });

  test('leaves out the sign for holding when nothing is held, and says so when nothing is pressed at all', () => {
    expect(
      textsOf(parseMarkup(draw({ hold: [], tap: 'touch.low-bb', watch: 'cup.low-b' }).svg), 'head'),
    ).toEqual(['Tap low B flat (left little finger)', 'Watch the low B cup']);
    expect(draw({ hold: [], watch: 'cup.palm-d' }).words).toMatch(/^Press nothing\. Watch the palm D cup/);
  });

  test('stays below 16 kB', () => {
    for (const vent of alto.vents) {
      const picture = draw({ hold: LOW_D, tap: 'touch.gsharp', watch: vent.id });
      expect(Buffer.byteLength(picture.svg), vent.id).toBeLessThan(16_000);
    }
  });
});

describe('the movement to look for comes from the mechanism', () => {
  test.each([
    [
      'a cup that the touch closes',
      { hold: ['touch.lh2'], watch: 'cup.c-small' },
      'must go right down',
      'stops short',
    ],
    [
      'a cup that the tapped touch opens',
      { hold: [], tap: 'touch.gsharp', watch: 'cup.gsharp' },
      'must lift',
      'hardly moves',
    ],
    ['a cup that rests closed', { hold: [], watch: 'cup.palm-d' }, 'must stay shut', 'lifts'],
    ['a cup that no pressed touch moves', { hold: ['touch.lh1'], watch: 'cup.f' }, 'must stay open', 'drops'],
    ['a held cup', { hold: LOW_D, tap: 'touch.gsharp', watch: 'cup.gsharp' }, 'must stay shut', 'lifts'],
  ])('for %s', (_, request, must, fault) => {
    const { svg, words } = draw(request);
    expect(words).toContain(must);
    expect(words).toContain(fault);
    expect(textsOf(parseMarkup(svg), 'small').join(' ')).toContain(fault);
  });

  test('agrees for every touch and cup with whether the touch moves the cup', () => {
    for (const touch of alto.touches) {
      for (const vent of alto.vents) {
        const { words } = draw({ hold: [touch.id], watch: vent.id });
        const isMoved = /must (go right down|lift)/.test(words);
        // A link that switches decides between two cups; a single touch moves only what it reaches by itself.
        if (isMoved) expect(alto.touchesOf(vent.id).map((reach) => reach.touch)).toContain(touch.id);
      }
    }
  });
});

describe('a sight that is no movement by touches', () => {
  const drawSight = (sight: NonNullable<Parameters<typeof drawWatch>[2]['sight']>, watch = 'cup.f') =>
    draw({ hold: ['touch.rh1'], watch, beside: 'cup.fsharp', sight });
  const marks = (svg: string, mark: string) => pathsOf(parseMarkup(svg), mark) !== '';

  test('is drawn as what it is: paper under the pad, a lamp in the tube, an eye, a fingertip', () => {
    for (const [sight, mark] of [
      ['paper', 'strip'],
      ['light', 'lamp'],
      ['rest', 'eye'],
      ['push', 'finger'],
      ['press', 'finger'],
    ] as const) {
      expect(marks(drawSight(sight).svg, mark), sight).toBe(true);
      expect(marks(drawSight('moves').svg, mark), sight).toBe(false);
    }
  });

  test('shows no movement where nothing moves, and calls nothing good or a fault that is not', () => {
    for (const sight of ['rest', 'light'] as const) expect(marks(drawSight(sight).svg, 'move')).toBe(false);
    for (const sight of ['rest', 'push', 'press'] as const) {
      expect(marks(drawSight(sight).svg, 'good-sign')).toBe(false);
      expect(drawSight(sight).words).not.toContain('fault');
    }
  });

  test('says in words what the picture shows', () => {
    expect(drawSight('paper').words).toContain('it must grip; if it slips out, the pad does not seal');
    expect(drawSight('light').words).toContain('it must be dark; if light shines out');
    expect(drawSight('rest').words).toContain('while nothing moves');
    expect(drawSight('rises').words).toContain('let go and watch it: it must come up at once');
    expect(drawSight('press').words).toContain('somebody else presses the F cup down');
  });

  test('of two cups rings and names both', () => {
    const { svg, words } = drawSight('lands');
    expect(words).toContain('Watch the F cup and the F sharp cup: they must touch down together');
    expect(textsOf(parseMarkup(svg), 'watch-word')).toEqual(['watch', 'watch', 'watch', 'watch']);
  });

  test('at rest shows the cup as it rests, or as the held touches make it stand', () => {
    const pads = (hold: string[], watch: string) =>
      pathsOf(parseMarkup(draw({ hold, watch, sight: 'rest' }).svg), 'pad');
    expect(pads([], 'cup.palm-d')).not.toBe(pads(['touch.palm-d'], 'cup.palm-d'));
  });
});

test('an unknown cup or touch is refused and named', () => {
  expect(() => draw({ hold: [], watch: 'cup.none' })).toThrow(/cup\.none/);
  expect(() => draw({ hold: ['touch.none'], watch: 'cup.f' })).toThrow(/touch\.none/);
  expect(() => draw({ hold: [], tap: 'touch.none', watch: 'cup.f' })).toThrow(/touch\.none/);
});
