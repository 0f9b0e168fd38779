/** Every kind of page, seen as somebody who cannot see it well, on a small phone and a wide screen, by day and by night. */
import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type BrowserBench, openBrowserBench, watchForTrouble } from './support/bench.ts';
import { makeReadyRun, type ReadyOptions } from './support/ready-run.ts';

/** WCAG 2.2, levels A and AA, by the names that the checker gives them. */
const criteria = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
/** The smallest phones, and a screen on a desk; CSS pixels. */
const widths = [320, 1280] as const;
const schemes = ['light', 'dark'] as const;
/** What an answer measures at least, for a thumb; CSS pixels. WCAG 2.2 asks for 24. */
const smallestTarget = 44;
/** What the first look at a page may bring over the network, with nothing in the cache; bytes. */
const largestTransfer = 60_000;

const backedOutScrew = 'slack@link.fsharp-holds-gsharp';

let bench: BrowserBench;
/** The kinds of pages with the address of one of each, that every look begins from. */
const addresses = new Map<string, string>();
beforeAll(async () => {
  bench = await openBrowserBench();
  const { address } = bench.server;
  for (const [name, path] of [
    ['start', '/'],
    ['start with errors', '/runs?code=abcd'],
    ['page not found', '/nothing-here'],
    ['list of problems', '/problems'],
    ['one problem', '/problems/stale-step'],
    ['API description', '/api'],
  ] as const)
    addresses.set(name, `${address}${path}`);
  const ready = (options: ReadyOptions) => makeReadyRun(address, bench.patient(backedOutScrew), options);
  const stops = [
    ['question', 'owner'],
    ['play test, nothing played', 'play-test'],
    ['check with a picture', 'confirm/tap@link.fsharp-holds-gsharp'],
    ['what comes next', 'before-treat'],
    ['screw to turn', 'procedure.turn-screw.turn-quarter'],
    ['bench outcome', 'put-back-bench'],
  ] as const;
  for (const [name, until] of stops) addresses.set(name, `${address}/r/${await ready({ until })}`);
  const complaint = 'the palm keys leak and low C is silent';
  addresses.set('complaint to confirm', `${address}/r/${await ready({ until: 'understood', complaint })}`);
  const played = await ready({
    until: 'play-test',
    // Enough for both groups of notes, and never so much that the play test is done.
    playNote: (fingering, index) =>
      index > 16 ? null : { type: 'note', fingering, answered: index % 5 === 1 ? 'wrong' : 'speaks' },
  });
  addresses.set('play test, played', `${address}/r/${played}`);
  addresses.set('change of an answer', `${address}/r/${played}/change/3`);
  addresses.set('change of a note', `${address}/r/${played}/change/12`);
  addresses.set('why', `${addresses.get('bench outcome')}/why`);
  addresses.set('ticket', `${addresses.get('bench outcome')}/ticket`);
  addresses.set('card', `${addresses.get('bench outcome')}/card`);
});
afterAll(() => bench.dispose());

const kinds = [
  'start',
  'start with errors',
  'question',
  'complaint to confirm',
  'play test, nothing played',
  'play test, played',
  'check with a picture',
  'what comes next',
  'screw to turn',
  'change of an answer',
  'change of a note',
  'why',
  'bench outcome',
  'ticket',
  'page not found',
  'list of problems',
  'one problem',
  'API description',
];

async function openFresh(
  browser: Browser,
  kind: string,
): Promise<{ page: Page; trouble: string[]; bytes: () => number }> {
  const page = await (await browser.newContext({ reducedMotion: 'reduce' })).newPage();
  const trouble = watchForTrouble(page);
  const bytes = await countBytes(page);
  await page.goto(addresses.get(kind)!, { waitUntil: 'networkidle' });
  return { page, trouble, bytes };
}

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

/** Things to press that are smaller than a thumb, as "words: width x height". Links within a sentence do not count. */
function listSmallTargets(page: Page): Promise<string[]> {
  return page.evaluate((least) => {
    const targets = [
      ...document.querySelectorAll<HTMLElement>('button, .answer, .option, summary, select, .change, .home'),
    ];
    return targets.flatMap((target) => {
      const { width, height } = target.getBoundingClientRect();
      if (width === 0 || (width >= least && height >= least)) return [];
      return [`${target.textContent?.trim()}: ${Math.round(width)} x ${Math.round(height)}`];
    });
  }, smallestTarget);
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

describe.each(kinds)('the page "%s"', (kind) => {
  it('has nothing that the checker finds, no sideways scrolling and no small targets, at any width and light', async () => {
    const { page, trouble, bytes } = await openFresh(bench.browser, kind);
    expect(bytes()).toBeGreaterThan(1000);
    expect(bytes()).toBeLessThan(largestTransfer);
    for (const width of widths) {
      await page.setViewportSize({ width, height: 740 });
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      expect(await listSmallTargets(page)).toEqual([]);
      for (const colorScheme of schemes) {
        await page.emulateMedia({ colorScheme });
        expect(await listFindings(page, colorScheme), `${width} px, ${colorScheme}`).toEqual([]);
      }
    }
    expect(trouble).toEqual([]);
    await page.context().close();
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
    expect(await page.evaluate(() => document.activeElement?.getAttribute('name'))).toBe('person');
    expect(await page.title()).toBe('Something is missing · Quarter Turn');
  });

  it('has one main part, one title in large letters, and a title for the tab on every kind of page', async () => {
    const page = await bench.phone();
    const titles: string[] = [];
    for (const kind of kinds) {
      await page.goto(addresses.get(kind)!);
      expect(await page.getByRole('main').count(), kind).toBe(1);
      expect(await page.getByRole('heading', { level: 1 }).count(), kind).toBe(1);
      titles.push(await page.title());
    }
    expect(titles.every((title) => /^\S.* · Quarter Turn$/.test(title))).toBe(true);
    // The play test has the same title before and after; every other kind of page has its own.
    expect(new Set(titles).size).toBe(kinds.length - 1);
  });
});
