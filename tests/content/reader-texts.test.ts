import { describe, expect, test } from 'vitest';
import { loadContent } from '../../src/content/index.ts';

const { documents } = loadContent(new URL('../../flows', import.meta.url).pathname);

/** Keys whose values are for whoever keeps the files, not for readers of pages. */
const notForReaders = new Set(['source', 'sources', 'remark']);

/** Every text that a page may show, with where it stands. */
function listTexts(value: unknown, path: string): [path: string, text: string][] {
  if (typeof value === 'string') return [[path, value]];
  if (value === null || typeof value !== 'object') return [];
  return Object.entries(value).flatMap(([key, inner]) =>
    notForReaders.has(key) ? [] : listTexts(inner, `${path} > ${key}`),
  );
}

const texts = Object.entries(documents).flatMap(([file, document]) => listTexts(document, file));

describe('the texts that readers see', () => {
  test('are many', () => expect(texts.length).toBeGreaterThan(1000));

  test('have typographer’s apostrophes and quotation marks, everywhere alike', () => {
    expect(texts.filter(([, text]) => /[a-z]'[a-z]|"/i.test(text))).toEqual([]);
  });
});
