/** The bench ticket on paper. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type BrowserBench, openBrowserBench } from './support/bench.ts';
import { countPages, smallestType } from './support/print.ts';
import { makeReadyRun } from './support/ready-run.ts';

let bench: BrowserBench;
let ticket: Page;
beforeAll(async () => {
  bench = await openBrowserBench();
  // The fullest ticket: a long complaint, everything played that the page offers, a screw turned and put back.
  const code = await makeReadyRun(bench.server.address, bench.patient('slack@link.fsharp-holds-gsharp'), {
    complaint:
      'The low notes fail since the spring concert, and some days it is worse than on others. '.repeat(5),
    playNote: (fingering) => ({ type: 'note', fingering, answered: 'unsteady' }),
  });
  ticket = await bench.phone();
  await ticket.goto(`${bench.server.address}/r/${code}/ticket`);
});
afterAll(() => bench.dispose());

it.each(['A4', 'Letter'] as const)('prints on one sheet of %s', async (format) => {
  expect(await countPages(ticket, format)).toBe(1);
});

it('prints nothing but the ticket, black on white, also in the dark', async () => {
  await ticket.emulateMedia({ media: 'print', colorScheme: 'dark' });
  expect(await ticket.getByRole('link', { name: 'Back to the run' }).isVisible()).toBe(false);
  const colours = await ticket.locator('.sheet').evaluate((element) => {
    const { color, backgroundColor } = getComputedStyle(element);
    return [color, backgroundColor, getComputedStyle(document.body).backgroundColor];
  });
  expect(colours).toEqual(['rgb(0, 0, 0)', 'rgb(255, 255, 255)', 'rgb(255, 255, 255)']);
});

it('is nowhere set smaller than 8 points', async () => {
  expect(await smallestType(ticket, '.sheet')).toBeGreaterThanOrEqual(8);
});

describe('when more is to be said than a sheet holds', () => {
  beforeAll(async () => {
    await ticket.locator('.wide dd').evaluate((element) => {
      element.textContent = 'The low notes fail, and on some days it is worse. '.repeat(10);
    });
  });

  it.each(['A4', 'Letter'] as const)('the longest complaint that is taken still fits %s', async (format) => {
    expect(await countPages(ticket, format)).toBe(1);
  });

  it('takes further sheets, cuts nothing off, and says on each whose it is', async () => {
    await ticket.locator('.finding-list').evaluate((list) => {
      list.innerHTML = list.innerHTML.repeat(12);
    });
    expect(await countPages(ticket, 'A4')).toBeGreaterThan(1);
    await ticket.emulateMedia({ media: 'print' });
    const isCut = await ticket.locator('.sheet').evaluate((sheet) =>
      [sheet, ...sheet.querySelectorAll('*')].some((element) => {
        const { overflow, maxHeight } = getComputedStyle(element);
        return overflow !== 'visible' || (maxHeight !== 'none' && !(element instanceof SVGElement));
      }),
    );
    expect(isCut).toBe(false);
    const head = ticket.locator('.running');
    expect(await head.textContent()).toMatch(/Bench ticket \S+ · Alto saxophone/);
    expect(await head.evaluate((element) => getComputedStyle(element).display)).toBe('table-header-group');
  });
});
