import { gzipSync } from 'node:zlib';
import type { FastifyInstance } from 'fastify';
import supertest from 'supertest';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { buildApp } from '../../src/app.ts';
import { readConfig } from '../../src/config.ts';
import { loadContent } from '../../src/content/index.ts';
import { createLibrary } from '../../src/library/create-library.ts';
import { createPaperLibrary } from './support/paper-library.ts';
import { createPaperRuns } from './support/paper-runs.ts';
import { readText } from './support/read-html.ts';

const library = createLibrary(loadContent(new URL('../../flows', import.meta.url).pathname));
/** The first instrument of each family. */
const families = new Map(
  library
    .instruments()
    .toReversed()
    .map(({ id, family }) => [family, id]),
);

const apps: FastifyInstance[] = [];
async function serve(known: typeof library) {
  const app = buildApp({
    config: readConfig({ LOG_LEVEL: 'silent' }),
    runs: createPaperRuns(),
    library: known,
  });
  apps.push(app);
  await app.ready();
  return supertest(app.server);
}

let real: Awaited<ReturnType<typeof serve>>;
let paper: typeof real;
beforeAll(async () => {
  real = await serve(library);
  paper = await serve(createPaperLibrary());
});
afterAll(() => Promise.all(apps.map((app) => app.close())));

const all = (text: string, pattern: RegExp): string[] =>
  [...text.matchAll(pattern)].map(([, found = '']) => found);

describe('the list of instruments', () => {
  test('is reached from the start page, and leads to the page of every one', async () => {
    expect((await real.get('/')).text).toContain('href="/instruments"');
    const paths = all((await real.get('/instruments')).text, /href="\/instruments\/([^"]+)"/g);
    expect(paths).toEqual(library.instruments().map(({ id }) => id));
  });
});

describe('the page of an instrument', () => {
  test('tells its parts, its links with what slack does, its fingerings and where all that comes from', async () => {
    const text = readText((await paper.get('/instruments/alto-saxophone')).text);
    for (const told of [
      'opens the G sharp cup by the link “Arm over the G sharp cup”',
      'articulated G sharp; on most instruments',
      'G sharp screw backed out',
      'Tap the G sharp cup (“It moves”)',
      'Turn one screw, with the owner’s word; else bench work: Regulation.',
      'A. Nybody, An invented book, 2001',
      'https://example.org/book',
      'sounds E3, 164.8 Hz; standard',
    ])
      expect(text).toContain(told);
    expect(text).toMatch(/<span class="notes">low C sharp<\/span>: clear/);
    expect(text).toMatch(/Source: <a href="#source-1">1<\/a>; estimate/);
  });

  test('shows no section for parts that the instrument does not have', async () => {
    const { text } = await paper.get('/instruments/alto-saxophone');
    expect(text).toContain('id="vents"');
    for (const absent of ['keys', 'joints', 'bores', 'causes', 'faults'])
      expect(text).not.toMatch(new RegExp(`(id="|href="#)${absent}"`));
  });

  test('of an unknown instrument is a problem page that says which there are', async () => {
    const { status, text } = await paper.get('/instruments/kazoo');
    expect(status).toBe(404);
    expect(text).toContain('alto-saxophone');
  });

  test.each([...families])(
    '%s: every link on it leads somewhere, and nothing is there twice',
    async (_, id) => {
      const { text } = await real.get(`/instruments/${id}`);
      const ids = all(text, / id="([^"]+)"/g);
      expect(ids.length).toBeGreaterThan(50);
      expect(ids.filter((one, index) => ids.indexOf(one) !== index)).toEqual([]);
      const links = new Set(all(text, / href="#([^"]+)"/g));
      expect([...links].filter((link) => !ids.includes(link))).toEqual([]);
    },
  );
});

describe('the weight of the page', () => {
  test.each([...families])('%s: leaves room for the style within what a page may bring', async (_, id) => {
    const { text } = await real.get(`/instruments/${id}`);
    expect(gzipSync(text, { level: 5 }).length).toBeLessThan(40_000);
  });
});
