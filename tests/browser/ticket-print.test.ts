/** The bench ticket on paper. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type BrowserBench, openBrowserBench } from './support/bench.ts';
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

/** How many pages a PDF has: its page objects, which are not compressed. */
function countPages(pdf: Buffer): number {
  return pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;
}

it.each(['A4', 'Letter'])('prints on one sheet of %s', async (format) => {
  expect(countPages(await ticket.pdf({ format, preferCSSPageSize: false }))).toBe(1);
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
