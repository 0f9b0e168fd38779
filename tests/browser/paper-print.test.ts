/** The paper version: chosen on a phone with one thumb, and two pages at most on real paper, in type that can be read. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { PaperComplaint } from '../../src/web/paper-sheet.ts';
import { type BrowserBench, openBrowserBench } from './support/bench.ts';
import { countPages, smallestType } from './support/print.ts';

let bench: BrowserBench;
beforeAll(async () => {
  bench = await openBrowserBench();
});
afterAll(() => bench.dispose());

describe.each([true, false])('with a script: %s', (javaScriptEnabled) => {
  it('comes from the start page to a sheet in four taps, and back to the complaints', async () => {
    const page = await bench.phone({ javaScriptEnabled });
    await page.goto(bench.server.address);
    await page.getByRole('link', { name: /Print the questions/ }).click();
    await page.getByLabel('Which instrument?').selectOption('alto-saxophone');
    await page.getByRole('button', { name: 'Choose the complaint' }).click();
    await page.getByRole('button', { name: /^Low G sharp and high G sharp fail/ }).click();
    await page.getByRole('heading', { level: 1, name: /^Alto saxophone: Low G sharp/ }).waitFor();
    expect(await page.locator('.ending').count()).toBeGreaterThan(0);
    await page.getByRole('link', { name: 'Another sheet' }).click();
    await page.getByRole('heading', { level: 1, name: 'Which notes fail?' }).waitFor();
    await page.close();
  });
});

/** The complaints whose sheets are fullest, by their place among the usual ones, and the most frequent. */
const places = [0, 3, 4];

/** A bassoon has the longest fingerings. */
it.each([
  ['alto-saxophone', 'director'],
  ['bassoon', 'helper'],
  ['bb-clarinet', 'desk'],
])('fits two pages, A4 and Letter: %s, %s', async (instrument, person) => {
  const address = `${bench.server.address}/api/instruments/${instrument}/complaints?person=${person}`;
  const { complaints } = (await (await fetch(address)).json()) as { complaints: PaperComplaint[] };
  const page = await bench.phone();
  for (const { failing } of places.map((place) => complaints[place]!)) {
    const query = new URLSearchParams({ instrument, person, failing: failing.join(' ') });
    for (const tool of person === 'desk' ? [] : ['screwdriver', 'paper']) query.append('tools', tool);
    await page.goto(`${bench.server.address}/paper/sheet?${query}`, { timeout: 60_000 });
    expect(await countPages(page, 'A4')).toBeLessThanOrEqual(2);
    expect(await countPages(page, 'Letter')).toBeLessThanOrEqual(2);
    expect(await smallestType(page, '.sheet')).toBeGreaterThanOrEqual(9);
  }
  await page.close();
});
