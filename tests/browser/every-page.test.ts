/** Every kind of page at every width, with and without JavaScript, zoomed, and with letters twice as large. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type BrowserBench, openBrowserBench, watchForTrouble } from './support/bench.ts';
import { listLayoutTroubles } from './support/layout-look.ts';
import { openPageKinds, type PageKind, pageKinds } from './support/page-kinds.ts';
import { seen } from './support/reading.ts';

/** A phone, a tablet, a desk; CSS pixels. */
const widths = [360, 768, 1280] as const;
/** The desk at 200 % and at 400 %, the latter being what WCAG asks a page to fit into; CSS pixels. */
const [zoomedWidth, reflowWidth] = [640, 320] as const;
/** WCAG 2.2 asks for targets of 24; an answer is made for a thumb. */
const limits = { target: 24, answer: 44, letter: 12 } as const;
/** What the first look at a page may bring over the network, with nothing in the cache; bytes. */
const largestTransfer = 60_000;

let bench: BrowserBench;
let addresses: Map<PageKind, string>;
beforeAll(async () => {
  bench = await openBrowserBench();
  addresses = await openPageKinds(bench);
});
afterAll(() => bench.dispose());

/** What comes over the network, as compressed on the way. */
async function countBytes(page: Page): Promise<() => number> {
  const session = await page.context().newCDPSession(page);
  await session.send('Network.enable');
  let bytes = 0;
  session.on('Network.loadingFinished', ({ encodedDataLength }) => {
    bytes += encodedDataLength;
  });
  return () => bytes;
}

/** Everything wrong at any width, at 200 and 400 %, or with letters alone twice as large. */
async function lookAtAllSizes(page: Page): Promise<Record<string, string[]>> {
  const found: Record<string, string[]> = {};
  for (const width of [reflowWidth, zoomedWidth, ...widths]) {
    await page.setViewportSize({ width, height: 740 });
    const isReflow = width === reflowWidth;
    const troubles = await listLayoutTroubles(page, isReflow ? { ...limits, letter: 0 } : limits);
    if (troubles.length > 0) found[`${width} px`] = troubles;
  }
  await page.setViewportSize({ width: zoomedWidth, height: 740 });
  await page.evaluate(() => {
    const { fontSize } = getComputedStyle(document.documentElement);
    document.documentElement.style.fontSize = `${Number.parseFloat(fontSize) * 2}px`;
  });
  const troubles = await listLayoutTroubles(page, { ...limits, letter: 0 });
  if (troubles.length > 0) found['letters twice as large'] = troubles;
  return found;
}

describe.each(pageKinds)('the page "%s"', (kind) => {
  it('has nothing beside the screen, on top of each other, cut off or too small', async () => {
    const page = await bench.phone({ reducedMotion: 'reduce' });
    const trouble = watchForTrouble(page);
    const bytes = await countBytes(page);
    await page.goto(addresses.get(kind)!, { waitUntil: 'networkidle' });
    expect(bytes()).toBeGreaterThan(1000);
    expect(bytes()).toBeLessThan(largestTransfer);
    const isStill = await page.evaluate(() => document.getAnimations().length === 0);
    expect(isStill, 'nothing moves by itself').toBe(true);
    expect(await lookAtAllSizes(page)).toEqual({});
    expect(trouble).toEqual([]);
    await page.context().close();
  });

  it('is the same without JavaScript: all its words, and all there is to press', async () => {
    const readWith = async (javaScriptEnabled: boolean) => {
      const page = await bench.phone({ javaScriptEnabled, reducedMotion: 'reduce' });
      await page.goto(addresses.get(kind)!);
      const title = await seen(page.getByRole('heading', { level: 1 }));
      // What only a script can do, such as sounding a tone, is no answer and is left out without one.
      const answers = await page
        .locator('.answer:not([type="button"]):visible, .option:visible')
        .allInnerTexts();
      const layout = javaScriptEnabled ? {} : await lookAtAllSizes(page);
      await page.context().close();
      return { title, answers, layout };
    };
    const without = await readWith(false);
    expect(without.title).not.toBe('');
    expect(without.layout).toEqual({});
    expect(await readWith(true)).toEqual(without);
  });
});
