/** "Why?" on a phone and on paper, for instruments whose notes make many columns, and where no fault leads. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import type { RunView } from '../../src/runs/view.ts';
import { makeFaulty } from '../support/patient.ts';
import { flowsFolder } from '../support/runs-bench.ts';
import { type BrowserBench, openBrowserBench, watchForTrouble } from './support/bench.ts';
import { smallestType } from './support/print.ts';
import { words } from './support/reading.ts';

let bench: BrowserBench;
const content = loadContent(flowsFolder);
beforeAll(async () => {
  bench = await openBrowserBench();
});
afterAll(() => bench.dispose());

let keys = 0;
async function send(path: string, body: object): Promise<RunView> {
  keys += 1;
  const response = await fetch(`${bench.server.address}${path}`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ ...body, key: `why-pattern-${keys}` }),
  });
  if (!response.ok) throw new Error(await response.text());
  return (await response.json()) as RunView;
}

/** Plays and looks until the outcome, or the first page that is about a treatment; `said` answers some steps otherwise. */
async function bringRun(
  instrument: string,
  faults: readonly string[],
  said: Readonly<Record<string, string>> = {},
): Promise<string> {
  const { model } = content.instruments.get(instrument)!;
  const patient = makeFaulty(
    model,
    faults.map((fault) => ({ fault: model.instrument.fault(fault), severity: 'moderate' })),
  );
  let run = await send('/api/runs', { instrument, person: 'director', tools: ['screwdriver', 'paper'] });
  for (let count = 0; count < 150; count += 1) {
    const { step, id, revision } = run;
    if (step.kind === 'outcome' || step.id === 'before-treat') break;
    const waiting = step.notes.find((row) => row.answered === null && row.group === 'first');
    const check = step.kind === 'check' ? step.id.split('/')[1] : undefined;
    const choice = said[step.id] ?? (check === undefined ? step.choices[0]!.id : patient.answerCheck(check));
    const answer = waiting === undefined ? { type: 'choice', choice } : patient.playNote(waiting.fingering);
    run = await send(`/api/runs/${id}/answers`, { revision, answer });
  }
  return run.id;
}

/** Inside the margins of an A4 sheet, in CSS pixels. */
const paperWidth = 700;

describe.each([
  ['bassoon', ['leaks@cup.f']],
  ['bb-clarinet', ['leaks@cup.a', 'slack@link.bridge']],
  ['trumpet', ['sluggish@valve.first', 'water@slide.main']],
])('the pattern of the notes of a %s', (instrument, faults) => {
  it.each([true, false])(
    'is a table that can be read on a phone and on paper (script: %s)',
    async (javaScriptEnabled) => {
      const run = await bringRun(instrument, faults);
      const page = await bench.phone({ javaScriptEnabled });
      const trouble = watchForTrouble(page);
      await page.goto(`${bench.server.address}/r/${run}/why`);
      const table = page.locator('table.pattern');

      const pageWidth = await page.evaluate(() => document.documentElement.scrollWidth);
      expect(pageWidth).toBeLessThanOrEqual(page.viewportSize()!.width);
      // Few columns, although dozens of notes were played; the headings at the side stay while it is moved.
      const columns = table.locator('th.played');
      expect(await columns.count()).toBeLessThanOrEqual(8);
      const region = page.getByRole('region', { name: /What you heard/ });
      await region.evaluate((element) => {
        element.scrollLeft = element.scrollWidth;
      });
      const side = await table.locator('th.side').first().boundingBox();
      expect(side!.x).toBeGreaterThanOrEqual(0);
      expect(await smallestType(page, '.scroll')).toBeGreaterThanOrEqual(9);
      await page.emulateMedia({ media: 'screen' });

      // Every cell has a heading above it and one beside it, as a screen reader tells them.
      const shape = await table.evaluate((element) => ({
        caption: element.querySelector('caption')?.textContent ?? '',
        scopes: [...element.querySelectorAll('th')].map((heading) => heading.scope),
        rows: [...element.querySelectorAll('tr')].map((row) =>
          [...row.children].reduce((sum, cell) => sum + (cell as HTMLTableCellElement).colSpan, 0),
        ),
      }));
      expect(shape.caption).toContain('What you heard');
      expect(shape.scopes).not.toContain('');
      expect(new Set(shape.rows).size).toBe(1);

      await page.emulateMedia({ media: 'print' });
      await page.setViewportSize({ width: paperWidth, height: 1000 });
      const printed = await region.evaluate((element) => element.scrollWidth);
      expect(printed).toBeLessThanOrEqual(paperWidth);
      expect(trouble).toEqual([]);
      await page.context().close();
    },
  );
});

describe('where no fault leads', () => {
  it.each([
    ['bent', ['Something is plainly bent.', 'No note was played and no part was tried.']],
    ['none', ['What was played and looked at shows no fault', 'have nothing wrong at all.']],
  ])('says what is true after the look for danger was answered "%s"', async (look, sentences) => {
    const run = await bringRun('alto-saxophone', [], { 'danger-look': look });
    const page = await bench.phone({ javaScriptEnabled: look === 'none' });
    await page.goto(`${bench.server.address}/r/${run}/why`);
    for (const sentence of sentences) expect(await words(page)).toContain(sentence);
    await page.goto(`${bench.server.address}/r/${run}`);
    expect(await words(page)).toContain(sentences[0]);
    await page.context().close();
  });
});
