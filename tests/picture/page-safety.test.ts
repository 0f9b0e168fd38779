import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { drawFingering, drawPart, drawTurn, drawWatch } from '../../src/picture/index.ts';
import { alto, copyLayout, LOW_D, layout } from './support/alto.ts';
import { parseMarkup } from './support/markup.ts';

const css = readFileSync(new URL('../../views/assets/picture.css', import.meta.url), 'utf8');

function drawAll(prefix: string) {
  const screws = alto.links.filter(({ adjuster }) => adjuster.kind === 'screw');
  return [
    ...alto.fingerings.map((fingering) => drawFingering(alto, layout, fingering, { prefix })),
    ...alto.vents.map(({ id }) =>
      drawWatch(alto, layout, { hold: LOW_D, tap: 'touch.gsharp', watch: id }, { prefix }),
    ),
    ...screws.map(({ id }) =>
      drawTurn(alto, layout, { link: id, direction: 'out', turnedEighths: 1.5, limitEighths: 8 }, { prefix }),
    ),
    ...[...alto.joints, ...alto.bores, ...alto.keys].map(({ id }) =>
      drawPart(alto, layout, { place: id }, { prefix }),
    ),
  ];
}

const pictures = drawAll('first');
const tagsOf = new Map(pictures.map((picture) => [picture, parseMarkup(picture.svg)]));

describe('every picture', () => {
  test('is well-formed, one svg element, named for people who cannot see it', () => {
    for (const [{ words }, tags] of tagsOf) {
      const root = tags[0]!;
      expect(root.name).toBe('svg');
      expect(root.attributes.get('role')).toBe('img');
      const [titleId, wordsId] = root.attributes.get('aria-labelledby')!.split(' ');
      expect(tags[1]).toMatchObject({ name: 'title' });
      expect(tags[1]!.attributes.get('id')).toBe(titleId);
      expect(tags[1]!.text.length).toBeGreaterThan(5);
      expect(tags[2]!.attributes.get('id')).toBe(wordsId);
      expect(tags[2]!.text).toBe(words);
    }
  });

  test('carries nothing that a strict content security policy refuses, and no colour', () => {
    const allowed = new Set(['svg', 'title', 'desc', 'path', 'rect', 'ellipse', 'text']);
    for (const [{ svg }, tags] of tagsOf) {
      for (const tag of tags) {
        expect(allowed).toContain(tag.name);
        for (const attribute of tag.attributes.keys()) {
          expect(attribute).not.toMatch(/^on|^style$|href|^fill$|^stroke$/);
        }
      }
      expect(svg).not.toMatch(/#[0-9a-f]{3,8}\b|rgb\(|url\(|<script|<style|NaN|undefined|Infinity/i);
    }
  });

  test('shares no id with another one of another prefix', () => {
    const idsOf = (picture: { svg: string }) =>
      parseMarkup(picture.svg).flatMap((tag) => tag.attributes.get('id') ?? []);
    const [one, other] = [drawAll('first').flatMap(idsOf), drawAll('second').flatMap(idsOf)];
    expect(one.length).toBeGreaterThan(0);
    expect(one.filter((id) => other.includes(id))).toEqual([]);
  });

  test('keeps its own words inside its frame', () => {
    for (const [, tags] of tagsOf) {
      const [, , width, height] = tags[0]!.attributes.get('viewBox')!.split(' ').map(Number);
      for (const tag of tags.filter((candidate) => candidate.name === 'text')) {
        const [x, y] = [Number(tag.attributes.get('x')), Number(tag.attributes.get('y'))];
        expect(x, tag.text).toBeLessThan(width!);
        expect(y, tag.text).toBeLessThanOrEqual(height!);
        expect(Number(tag.attributes.get('font-size')), tag.text).toBeGreaterThanOrEqual(9);
      }
    }
  });

  test('has a rule in the style sheet for each of its classes', () => {
    const classes = new Set(
      [...tagsOf.values()].flat().flatMap((tag) => tag.attributes.get('class')?.split(' ') ?? []),
    );
    const plain = [
      'picture-panel',
      'picture-head',
      'picture-small',
      'picture-good-word',
      'picture-fault-word',
      'picture-stem',
    ];
    const kinds = ['picture-watch', 'picture-turn', 'picture-part'];
    const missing = [...classes].filter(
      (name) => !css.includes(`.${name}`) && ![...plain, ...kinds].includes(name),
    );
    expect(missing).toEqual([]);
  });
});

test('a prefix that cannot begin an id is refused', () => {
  for (const prefix of ['', '1st', 'a b', 'a"b', '<a']) {
    expect(() => drawPart(alto, layout, { place: 'cup.f' }, { prefix })).toThrow(RangeError);
  }
});

test('words from the data cannot break out of the markup', () => {
  const changed = copyLayout();
  changed.touches['touch.lh1']!.label = '<b>&"';
  changed.seen = 'Seen <script>alert("x")</script> & so on.';
  const part = drawPart(alto, changed, { place: 'cup.f' }, { prefix: 'a' });
  const fingering = drawFingering(alto, changed, alto.fingering('fg.B4'), { prefix: 'a' });
  for (const { svg } of [part, fingering]) {
    expect(parseMarkup(svg).map((tag) => tag.name)).not.toContain('script');
    expect(parseMarkup(svg).map((tag) => tag.name)).not.toContain('b');
  }
});
