import { describe, expect, test } from 'vitest';
import { drawPart, findPlace } from '../../src/picture/index.ts';
import { alto, layout } from './support/alto.ts';
import { parseMarkup, pathsOf, textsOf } from './support/markup.ts';

const draw = (place: string) => drawPart(alto, layout, { place }, { prefix: 'a' });
const placed = [...alto.vents, ...alto.touches, ...alto.keys, ...alto.links, ...alto.joints, ...alto.bores];

describe('the picture of one part', () => {
  test.each(placed.map((part) => [part.id, part.name] as const))('marks %s and names it', (id, name) => {
    const { svg, words } = draw(id);
    const tags = parseMarkup(svg);
    expect(words.toLowerCase()).toContain(name.toLowerCase());
    expect(pathsOf(tags, 'watch') + pathsOf(tags, 'stretch')).not.toBe('');
    expect(textsOf(tags, 'watch-word')[0]).toBe('here');
    expect(name).toContain(textsOf(tags, 'watch-word').slice(1).join(' '));
    expect(Buffer.byteLength(svg)).toBeLessThan(16_000);
  });

  test('tells every two parts apart in words', () => {
    expect(new Set(placed.map(({ id }) => draw(id).words)).size).toBe(placed.length);
  });

  test('says between which cups a cup lies, in the order of the mechanism', () => {
    alto.vents.slice(1, -1).forEach((vent, index) => {
      const [before, after] = [alto.vents[index]!, alto.vents[index + 2]!];
      expect(draw(vent.id).words).toContain(`between the ${before.name} and the ${after.name}`);
    });
  });

  test('says which finger presses a touch and what a key works', () => {
    expect(draw('touch.low-eb').words).toContain('pressed by the right little finger');
    expect(draw('touch.palm-f').words).toContain('pressed by the left palm');
    expect(draw('lever.gsharp').words).toContain('it works the G sharp cup');
    expect(draw('link.fsharp-holds-bis').words).toContain('where the F sharp bar works the bis cup');
  });

  test('puts a set-up cause at the mouthpiece', () => {
    expect(draw('setup.reed').words).toContain('at the mouthpiece end');
  });
});

describe('what has no place on the instrument', () => {
  const player = alto.causes.find((cause) => cause.group === 'player')!;

  test('is known as such before drawing', () => {
    expect(findPlace(alto, layout, player.id)).toBeNull();
    expect(findPlace(alto, layout, 'cup.none')).toBeNull();
    expect(findPlace(alto, layout, 'cup.f')!.name).toBe('F cup');
  });

  test('is refused and named', () => {
    expect(() => draw(player.id)).toThrow(player.id);
    expect(() => draw('cup.none')).toThrow('cup.none');
  });
});
