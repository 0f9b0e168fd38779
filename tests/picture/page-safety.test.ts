import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { drawFingering, drawPart, drawPress, drawTurn, drawWatch } from '../../src/picture/index.ts';
import { alto, copyLayout, LOW_D, layout } from './support/alto.ts';
import { parseMarkup } from './support/markup.ts';

const css = readFileSync(new URL('../../views/assets/picture.css', import.meta.url), 'utf8');

/** The width of a letter on average, as a share of its size, plain and bold: measured in DejaVu Sans, a wide face. */
const LETTER_WIDTHS = { plain: 0.52, bold: 0.58 } as const;
const plainWords = ['picture-head', 'picture-small', 'picture-hand'];
const SIGHTS = ['rises', 'lands', 'paper', 'light', 'rest', 'push', 'press'] as const;

function drawAll(prefix: string) {
  const screws = alto.links.filter(({ adjuster }) => adjuster.kind === 'screw');
  return [
    ...alto.fingerings.map((fingering) => drawFingering(alto, layout, fingering, { prefix })),
    ...alto.vents.map(({ id }) =>
      drawWatch(alto, layout, { hold: LOW_D, tap: 'touch.gsharp', watch: id }, { prefix }),
    ),
    ...alto.fingerings.map((fingering) => drawPress(alto, layout, fingering, { prefix })),
    ...SIGHTS.map((sight) =>
      drawWatch(alto, layout, { hold: LOW_D, watch: 'cup.e', beside: 'cup.f', sight }, { prefix }),
    ),
    ...screws.flatMap(({ id }) =>
      [0.5, -1.5].map((nowEighths) =>
        drawTurn(
          alto,
          layout,
          { link: id, direction: 'out', turnedEighths: 1.5, limitEighths: 8, nowEighths },
          { prefix },
        ),
      ),
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

  test('keeps its own words inside its frame, and inside the panel that they stand in', () => {
    for (const [, tags] of tagsOf) {
      const [, , ...whole] = tags[0]!.attributes.get('viewBox')!.split(' ').map(Number);
      let panel = whole;
      for (const { name, attributes, text, depth } of tags) {
        if (name === 'svg' && depth === 1)
          panel = [Number(attributes.get('width')), Number(attributes.get('height'))];
        const [width, height] = depth === 1 ? whole : panel;
        if (name !== 'text') continue;
        const size = Number(attributes.get('font-size'));
        const weight = plainWords.includes(attributes.get('class')!) ? 'plain' : 'bold';
        const length = [...text].length * size * LETTER_WIDTHS[weight];
        const isFromStart = attributes.get('text-anchor') === undefined;
        const left = Number(attributes.get('x')) - (isFromStart ? 0 : length / 2);
        if (attributes.get('text-anchor') !== 'end') {
          expect(left, text).toBeGreaterThanOrEqual(-1);
          expect(left + length, text).toBeLessThanOrEqual(width! + 1);
        }
        expect(Number(attributes.get('y')), text).toBeLessThanOrEqual(height!);
      }
    }
  });

  test('has no letter smaller than 12 px on a screen 360 px wide', () => {
    for (const [{ svg }, tags] of tagsOf) {
      const isSmallOnPurpose = svg.includes('picture-fingering');
      // What a plate on a page leaves of 360 px, against the picture's own width.
      const factor = isSmallOnPurpose ? 1 : 313 / Number(tags[0]!.attributes.get('viewBox')!.split(' ')[2]);
      for (const tag of tags.filter(({ name }) => name === 'text'))
        expect(Number(tag.attributes.get('font-size')) * factor, tag.text).toBeGreaterThanOrEqual(12);
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
    const kinds = ['picture-watch', 'picture-turn', 'picture-part', 'picture-press'];
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
