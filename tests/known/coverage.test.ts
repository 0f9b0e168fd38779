import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import { findMarked } from '../support/marked-place.ts';
import { coverageTable } from './coverage-table.ts';
import { casesByInstrument } from './published-cases.ts';

const root = new URL('../../', import.meta.url).pathname;
const content = loadContent(`${root}flows`);

describe('the table of what is known of each instrument', () => {
  it('is true; if not, run `npm run coverage` and keep what it writes', () => {
    const text = readFileSync(`${root}DEVELOPERS.md`, 'utf8');
    const { from, to } = findMarked(text, 'coverage');
    expect(text.slice(from, to).trim().split('\n')).toEqual(coverageTable(content));
  });

  it('counts published cases only of instruments that there are', () => {
    expect(Object.keys(casesByInstrument).filter((id) => !content.instruments.has(id))).toEqual([]);
  });

  it('says what is missing where its marks are gone', () => {
    expect(() => findMarked('<!-- coverage -->', 'coverage')).toThrow('put them back');
  });
});
