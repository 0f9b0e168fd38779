/** The card for the instrument's case on paper, for every way a run can end. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type BrowserBench, openBrowserBench } from './support/bench.ts';
import { countPages, smallestType } from './support/print.ts';
import { makeReadyRun, type ReadyOptions } from './support/ready-run.ts';

let bench: BrowserBench;
beforeAll(async () => {
  bench = await openBrowserBench();
});
afterAll(() => bench.dispose());

const screw = 'slack@link.fsharp-holds-gsharp';

/** The longest way to each end: notes that all fail give the most other fingerings to draw. */
const ends: readonly [string, string | null, ReadyOptions][] = [
  ['a screw was turned and put back', screw, {}],
  [
    'it was left better than it was',
    screw,
    { choices: { 'procedure.turn-screw.test': 'gone', 'not-yet': 'enough' } },
  ],
  ['nothing may be turned', screw, { choices: { 'owner-word': 'no' } }],
  [
    'every note fails',
    screw,
    {
      playNote: (fingering) => ({ type: 'note', fingering, answered: 'silent' }),
      choices: { 'owner-word': 'no' },
    },
  ],
  ['nothing is wrong', null, {}],
  ['something is broken', null, { choices: { 'danger-look': 'broken' } }],
  ['it is not fit to be handled', null, { choices: { 'danger-clean': 'unfit' } }],
  ['it was the reed', 'set-up@setup.reed', {}],
  ['it is left for another time', null, { choices: { 'ready-place': 'stop', stopping: 'stop' } }],
  ['other fingerings are drawn', 'opens-too-little@cup.b', {}],
  ['a caller is told', screw, { person: 'desk' }],
];

it.each(ends)('fits one sheet, A4 and Letter, when %s', async (_, fault, options) => {
  const code = await makeReadyRun(
    bench.server.address,
    bench.patient(fault, options.person as 'director' | undefined),
    options,
  );
  const page = await bench.phone();
  await page.goto(`${bench.server.address}/r/${code}/card`);
  for (const title of ['What was wrong', 'What was done', 'Whom to ask']) {
    expect(await page.getByRole('heading', { name: title }).count()).toBe(1);
  }
  expect(await countPages(page, 'A4')).toBe(1);
  expect(await countPages(page, 'Letter')).toBe(1);
  expect(await smallestType(page, '.sheet')).toBeGreaterThanOrEqual(9);
  await page.close();
});

it('is led to from the outcome page, and leads back', async () => {
  const code = await makeReadyRun(bench.server.address, bench.patient(null));
  const page = await bench.phone();
  await page.goto(`${bench.server.address}/r/${code}`);
  await page.getByRole('link', { name: 'The card for the case, to print' }).click();
  await page.getByRole('link', { name: 'Back to the run' }).click();
  expect(new URL(page.url()).pathname).toBe(`/r/${code}`);
});
