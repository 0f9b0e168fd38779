import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  assembleContent,
  ContentError,
  editionOf,
  loadContent,
  toCanonicalJson,
} from '../../src/content/index.ts';

const content = loadContent(new URL('../../flows', import.meta.url).pathname);

describe('an edition', () => {
  test('can be revived from its documents after they have been kept as JSON', () => {
    const revived = assembleContent(JSON.parse(JSON.stringify(content.documents)));
    expect(revived.edition).toBe(content.edition);
    const opening = { person: 'director', tools: [] } as const;
    expect(revived.flow.step(revived.flow.begin(opening))).toEqual(
      content.flow.step(content.flow.begin(opening)),
    );
  });

  test('of before complaints were read is still read, without the words of complaints', () => {
    const documents = Object.fromEntries(
      Object.entries(content.documents).filter(([file]) => !file.startsWith('complaint/')),
    );
    expect(content.vocabulary).not.toBeNull();
    expect(assembleContent(documents).vocabulary).toBeNull();
  });

  test('is another as soon as one word is another', () => {
    const documents = structuredClone(content.documents) as Record<
      string,
      { states?: Record<string, { title: string }> }
    >;
    documents['main.yaml']!.states!.owner!.title = 'Whose is it?';
    expect(editionOf(documents)).not.toBe(content.edition);
    expect(editionOf(documents)).toMatch(/^[0-9a-f]{64}$/);
  });

  test('does not depend on the order of keys', () => {
    const turned = Object.fromEntries(Object.entries(content.documents).reverse());
    expect(editionOf(turned)).toBe(content.edition);
  });

  test('that does not fit is refused with what is wrong, without lines', () => {
    expect(() => assembleContent({ ...content.documents, 'outcomes.yaml': {} })).toThrow(ContentError);
    expect(() => assembleContent({})).toThrow(/main\.yaml: is missing/);
  });
});

describe('canonical JSON', () => {
  test('means the same as what it was made from', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        expect(JSON.parse(toCanonicalJson(value))).toEqual(JSON.parse(JSON.stringify(value)));
      }),
    );
  });

  test('is the same text for the same data', () => {
    expect(toCanonicalJson({ b: [1, { d: null, c: 'x' }], a: true })).toBe(
      toCanonicalJson({ a: true, b: [1, { c: 'x', d: null }] }),
    );
  });
});
