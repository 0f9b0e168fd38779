/** What directors and callers say: whether it is taken for what it means, and what means no harm for nothing that is wrong. */
import { describe, expect, test } from 'vitest';
import { isFoundHarmless, isHeldOut, isUnderstood, phrasesOf } from './support/said.ts';

/** Held-out phrases that are understood, and found harmless, at least. */
describe.each([
  ['brass', { understood: 14, of: 15, harmless: 3 }],
  ['clarinets', { understood: 14, of: 14, harmless: 2 }],
  ['flutes', { understood: 9, of: 14, harmless: 3 }],
  ['double-reeds', { understood: 13, of: 14, harmless: 3 }],
] as const)('what is said of %s', (family, heldOut) => {
  const { means, harmless } = phrasesOf(family);

  test.each(means.filter((_, index) => !isHeldOut(index)))('$on: "$says" is understood', (phrase) => {
    expect(isUnderstood(phrase)).toBe(true);
  });

  test.each(harmless.filter((_, index) => !isHeldOut(index)))('$on: "$says" accuses nothing', (phrase) => {
    expect(isFoundHarmless(phrase)).toBe(true);
  });

  test('is understood as well where it was held out of the fitting', () => {
    const held = means.filter((_, index) => isHeldOut(index));
    expect(held).toHaveLength(heldOut.of);
    expect(held.filter(isUnderstood).length).toBeGreaterThanOrEqual(heldOut.understood);
    const innocent = harmless.filter((_, index) => isHeldOut(index));
    expect(innocent.filter(isFoundHarmless).length).toBeGreaterThanOrEqual(heldOut.harmless);
  });
});

/** Read for the first time, before anything was mended on them, 14 of these were understood. */
test('what people have written on public pages is understood in at least 21 of 24', () => {
  const { means } = phrasesOf('from-pages');
  expect(means).toHaveLength(24);
  expect(means.filter(({ source }) => source?.startsWith('http') !== true)).toEqual([]);
  expect(means.filter(isUnderstood).length).toBeGreaterThanOrEqual(21);
});
