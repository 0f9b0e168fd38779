/** The bench ticket on paper. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type BrowserBench, openBrowserBench } from './support/bench.ts';
import { pointerHands } from './support/hands.ts';
import { openVisit } from './support/visit.ts';

let bench: BrowserBench;
let ticket: Page;
beforeAll(async () => {
  bench = await openBrowserBench();
  ticket = await bench.phone();
  // The fullest ticket: a long complaint, everything played that the page offers, a screw turned and put back.
  const visit = await openVisit(pointerHands(ticket), bench.server.address, {
    who: 'Band director',
    toHand: ['A small flat screwdriver', 'Thin paper', 'Somebody to help'],
    complaint:
      'The low notes fail since the spring concert, and some days it is worse than on others. '.repeat(5),
  });
  const patient = bench.patient('slack@link.fsharp-holds-gsharp');
  await visit.walk(
    () => patient,
    { owner: 'The school or the band', 'owner-word': 'Yes' },
    { until: ['play-test'] },
  );
  await ticket.getByText('Then, if you like').click();
  for (const row of (await visit.run()).step.notes) await visit.answerNote(row, 'Unsteady');
  await visit.walk(() => patient, {});
  await ticket.goto(`${bench.server.address}/r/${visit.code()}/ticket`);
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
