import { describe, expect, test } from 'vitest';
import { drawPart, findPlace } from '../../src/picture/index.ts';
import { alto, layout } from './support/alto.ts';
import { parseMarkup, pathsOf, textsOf } from './support/markup.ts';

const draw = (place: string) => drawPart(alto, layout, { place }, { prefix: 'a' });
const isScrew = (id: string) => alto.links.some((link) => link.id === id && link.adjuster.kind === 'screw');
const placed = [...alto.vents, ...alto.touches, ...alto.keys, ...alto.links, ...alto.joints, ...alto.bores];

describe('the picture of one part', () => {
  test.each(placed.map((part) => [part.id, part.name] as const))('marks %s and names it', (id, name) => {
    const { svg, words } = draw(id);
    const tags = parseMarkup(svg);
    expect(words.toLowerCase()).toContain(name.toLowerCase());
    expect(Buffer.byteLength(svg)).toBeLessThan(16_000);
    if (isScrew(id)) return;
    expect(pathsOf(tags, 'watch') + pathsOf(tags, 'stretch')).not.toBe('');
    expect(textsOf(tags, 'watch-word')[0]).toBe('here');
    expect(name).toContain(textsOf(tags, 'watch-word').slice(1).join(' '));
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
    expect(draw('link.b-closes-c').words).toContain('where the B key works the small C cup');
  });

  test('shows which of two screws that look alike is meant, without a direction to turn', () => {
    const { svg, words } = draw('link.fsharp-holds-bis');
    const tags = parseMarkup(svg);
    expect(words).toContain('This is the screw by which the F sharp bar works the bis cup');
    expect(words).toContain('Not the screw beside it that looks alike (F sharp bar to the G sharp cup)');
    expect(textsOf(tags, 'turn-word')).toEqual(['this one']);
    expect(textsOf(tags, 'not-word')).toEqual(['not this one']);
    expect(svg).not.toContain('clockwise');
  });

  test('puts a set-up cause at the mouthpiece', () => {
    expect(draw('setup.reed').words).toContain('at the end that is blown');
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
