/** The paper version of a flow on real paper: two pages at most, in type that can be read. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { PaperComplaint } from '../../src/web/paper-sheet.ts';
import { type BrowserBench, openBrowserBench } from './support/bench.ts';
import { countPages, smallestType } from './support/print.ts';

let bench: BrowserBench;
beforeAll(async () => {
  bench = await openBrowserBench();
});
afterAll(() => bench.dispose());

/** The complaints whose sheets are fullest, by their place among the usual ones, and the most frequent. */
const places = [0, 5, 7, 8];

it.each(['director', 'helper', 'desk'])('fits two pages, A4 and Letter, for the %s', async (person) => {
  const address = `${bench.server.address}/api/instruments/alto-saxophone/complaints?person=${person}`;
  const { complaints } = (await (await fetch(address)).json()) as { complaints: PaperComplaint[] };
  const page = await bench.phone();
  for (const { failing } of places.map((place) => complaints[place]!)) {
    const query = new URLSearchParams({ instrument: 'alto-saxophone', person, failing: failing.join(' ') });
    for (const tool of person === 'desk' ? [] : ['screwdriver', 'paper']) query.append('tools', tool);
    await page.goto(`${bench.server.address}/paper/sheet?${query}`, { timeout: 60_000 });
    expect(await page.locator('.ending').count()).toBeGreaterThan(0);
    expect(await countPages(page, 'A4')).toBeLessThanOrEqual(2);
    expect(await countPages(page, 'Letter')).toBeLessThanOrEqual(2);
    expect(await smallestType(page, '.sheet')).toBeGreaterThanOrEqual(9);
  }
  await page.close();
});
