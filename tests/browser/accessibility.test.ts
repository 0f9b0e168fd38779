/** Every kind of page, seen as somebody who cannot see it well, on a small phone and a wide screen, by day and by night. */
import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type BrowserBench, openBrowserBench, watchForTrouble } from './support/bench.ts';
import { phone } from './support/browser.ts';
import { openPageKinds, type PageKind, pageKinds } from './support/page-kinds.ts';

/** WCAG 2.2, levels A and AA, by the names that the checker gives them. */
const criteria = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
/** The smallest phones, and a screen on a desk; CSS pixels. */
const widths = [320, 1280] as const;
const schemes = ['light', 'dark'] as const;
let bench: BrowserBench;
let addresses: Map<PageKind, string>;
beforeAll(async () => {
  bench = await openBrowserBench();
  addresses = await openPageKinds(bench);
});
afterAll(() => bench.dispose());

async function openFresh(browser: Browser, kind: PageKind): Promise<{ page: Page; trouble: string[] }> {
  const page = await (await browser.newContext({ reducedMotion: 'reduce' })).newPage();
  const trouble = watchForTrouble(page);
  await page.goto(addresses.get(kind)!, { waitUntil: 'networkidle' });
  return { page, trouble };
}

/** What the checker finds. By night only the colours are others, so only they are looked at again. */
async function listFindings(page: Page, colorScheme: 'light' | 'dark'): Promise<string[]> {
  const checker = new AxeBuilder({ page }).setLegacyMode();
  const { violations } = await (colorScheme === 'light'
    ? checker.withTags(criteria)
    : checker.withRules(['color-contrast', 'link-in-text-block'])
  ).analyze();
  return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' | ')}`);
}

describe.each(pageKinds)('the page "%s"', (kind) => {
  it('has nothing that the checker finds, on a small phone and on a desk, by day and by night', async () => {
    const { page, trouble } = await openFresh(bench.browser, kind);
    for (const width of widths) {
      await page.setViewportSize({ width, height: 740 });
      for (const colorScheme of schemes) {
        await page.emulateMedia({ colorScheme });
        expect(await listFindings(page, colorScheme), `${width} px, ${colorScheme}`).toEqual([]);
      }
    }
    expect(trouble).toEqual([]);
    await page.context().close();
  });
});

describe('the first screen of a phone', () => {
  it.each([
    'question',
    'play test, nothing played',
    'play test, trombone',
    'play test, clarinet',
    'check with a picture',
    'screw to turn',
    'test after a turn',
  ] as const)('holds the question and the first answer, and the last answer above it: %s', async (kind) => {
    const page = await bench.phone();
    await page.goto(addresses.get(kind)!);
    const bottom = (selector: string) =>
      page
        .locator(selector)
        .first()
        .evaluate((element) => element.getBoundingClientRect().bottom);
    expect(await bottom('main button.answer')).toBeLessThanOrEqual(phone.height);
    expect(await bottom('.last')).toBeLessThan(await bottom('h1'));
  });
});

describe('the order of things on a page', () => {
  it('puts the focus on what is wrong with a start, and each problem leads to its field', async () => {
    const page = await bench.phone();
    await page.goto(bench.server.address);
    await page.getByRole('button', { name: 'Start', exact: true }).click();
    const summary = page.getByRole('alert');
    await summary.waitFor();
    expect(await summary.evaluate((element) => element === document.activeElement)).toBe(true);
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    // The instruments stand folded by family, so the way leads to the first family.
    expect(await page.evaluate(() => document.activeElement?.id)).toMatch(/^family-/);
    expect(await page.title()).toBe('Something is missing · Quarter Turn');
  });

  it('has one main part, one title in large letters, and a title for the tab on every kind of page', async () => {
    const page = await bench.phone();
    const titles: string[] = [];
    for (const kind of pageKinds) {
      await page.goto(addresses.get(kind)!);
      expect(await page.getByRole('main').count(), kind).toBe(1);
      expect(await page.getByRole('heading', { level: 1 }).count(), kind).toBe(1);
      titles.push(await page.title());
    }
    expect(titles.every((title) => /^\S.* · Quarter Turn$/.test(title))).toBe(true);
    // What is one page in another condition has one title: the start with a family open and closed, the play test before and
    // after, a complaint as the example has it and as it is read in part, the first question where none of it was read, and
    // the same page of another instrument. Every other kind of page has its own.
    const ofOneInstrument = titles.filter((_, at) => !/, (trombone|clarinet)$/.test(pageKinds[at]!));
    const repeated = ofOneInstrument.filter((title, at) => ofOneInstrument.indexOf(title) !== at);
    expect(new Set(repeated.map((title) => title.split(' · ')[0]))).toEqual(
      new Set(['Start', 'Did I understand you?', 'Whose instrument is it?', 'Play down the instrument']),
    );
  });
});
