/** The start page in a real browser: one tap for whoever has been here before, and nothing lost without a script. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type BrowserBench, openBrowserBench, watchForTrouble } from './support/bench.ts';
import { pointerHands } from './support/hands.ts';
import { headline, words } from './support/reading.ts';
import { chooseInstrument, openVisit } from './support/visit.ts';

let bench: BrowserBench;
beforeAll(async () => {
  bench = await openBrowserBench();
});
afterAll(() => bench.dispose());

describe('coming again', () => {
  it('starts in one tap as last time, in this browser only', async () => {
    const page = await bench.phone();
    const trouble = watchForTrouble(page);
    await openVisit(pointerHands(page), bench.server.address, {
      who: 'Student helper',
      toHand: ['A small flat screwdriver'],
    });
    await page.goto(bench.server.address);
    const again = page.getByRole('button', { name: 'Start as last time: Alto saxophone, Student helper' });
    await again.click();
    await page.waitForURL(/\/r\//);
    const code = new URL(page.url()).pathname.split('/')[2];
    const run = await (await fetch(`${bench.server.address}/api/runs/${code}`)).json();
    expect(run).toMatchObject({ person: 'helper', instrument: { id: 'alto-saxophone' } });
    expect(trouble).toEqual([]);

    const other = await bench.phone();
    await other.goto(bench.server.address);
    expect(await other.getByRole('button', { name: /^Start as last time/ }).count()).toBe(0);
  });

  it('leaves what was just sent as it was, when something is missing', async () => {
    const page = await bench.phone();
    await page.goto(bench.server.address);
    await page.evaluate(() =>
      localStorage.setItem(
        'quarter-turn.last-start',
        JSON.stringify({ instrument: 'alto-saxophone', person: 'desk', tools: [] }),
      ),
    );
    await page.goto(`${bench.server.address}/runs?code=abcd`);
    expect(await page.getByRole('button', { name: /^Start as last time/ }).count()).toBe(0);
    expect(await page.getByRole('radio', { name: 'Shop desk' }).isChecked()).toBe(false);
  });

  it('takes no harm from a memory that is broken or speaks of an instrument that is gone', async () => {
    const page = await bench.phone();
    const trouble = watchForTrouble(page);
    await page.goto(bench.server.address);
    for (const kept of ['{', '7', '{"instrument":"kazoo","person":"desk","tools":[]}']) {
      await page.evaluate((text) => localStorage.setItem('quarter-turn.last-start', text), kept);
      await page.reload();
      expect(await page.getByRole('radio', { checked: true, name: 'Shop desk' }).count()).toBe(0);
      expect(await page.getByRole('button', { name: /^Start as last time/ }).count()).toBe(0);
    }
    expect(trouble).toEqual([]);
  });
});

it('the example is read by links alone, without a script', async () => {
  const page = await bench.phone({ javaScriptEnabled: false });
  await page.goto(bench.server.address);
  await page.getByRole('link', { name: 'Read an example first' }).click();
  const first = await headline(page);
  await page.getByRole('link', { name: 'Next page of the example' }).click();
  expect(await headline(page)).not.toBe(first);
  await page.getByRole('button').first().click();
  expect(await words(page)).toContain('Start a run of your own');
});

describe('choosing an instrument', () => {
  it('is two taps without a script: the family, then the instrument, each as wide as a thumb', async () => {
    const page = await bench.phone({ javaScriptEnabled: false });
    await page.goto(bench.server.address);
    await chooseInstrument(pointerHands(page), 'Tenor saxophone');
    const option = page
      .locator('label')
      .filter({ has: page.getByRole('radio', { name: 'Tenor saxophone', exact: true }) });
    expect(await option.locator('svg').isVisible()).toBe(true);
    expect((await option.boundingBox())?.height).toBeGreaterThanOrEqual(44);
    await page.getByRole('radio', { name: 'Band director' }).click();
    await page.getByRole('button', { name: 'Start', exact: true }).click();
    await page.waitForURL(/\/r\//);
    const code = new URL(page.url()).pathname.split('/')[2];
    const run = await (await fetch(`${bench.server.address}/api/runs/${code}`)).json();
    expect(run).toMatchObject({ instrument: { id: 'tenor-saxophone' } });
  });

  it('helps whoever is not sure: what to look for, and the way to that family', async () => {
    const page = await bench.phone({ javaScriptEnabled: false });
    await page.goto(bench.server.address);
    await page.getByText('Not sure which one?').click();
    const entry = page.getByRole('listitem').filter({ hasText: 'One reed on a mouthpiece, a curved neck' });
    await entry.getByRole('link', { name: 'Saxophones' }).click();
    await page.waitForURL(/family=saxophone/);
    expect(await page.getByText('dips like a swan’s', { exact: false }).isVisible()).toBe(true);
  });
});
