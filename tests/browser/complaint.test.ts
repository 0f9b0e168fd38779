/** From a complaint in somebody's own words, through the taps that confirm it, to a shorter play test; on a phone. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type BrowserBench, openBrowserBench, watchForTrouble } from './support/bench.ts';
import { pointerHands } from './support/hands.ts';
import { headline, words } from './support/reading.ts';
import { openVisit } from './support/visit.ts';

let bench: BrowserBench;
beforeAll(async () => {
  bench = await openBrowserBench();
});
afterAll(() => bench.dispose());

describe('a complaint typed on a phone', () => {
  it.each([true, false])(
    'shows what was not understood, and keeps every word (script: %s)',
    async (javaScriptEnabled) => {
      const page = await bench.phone({ javaScriptEnabled });
      const trouble = watchForTrouble(page);
      await openVisit(pointerHands(page), bench.server.address, {
        who: 'Band director',
        complaint: 'low C is silent,\nthe gizmo rattles',
      });
      expect(await headline(page)).toBe('Did I understand you?');
      expect(await page.locator('.complaint .missed').allTextContents()).toEqual(['gizmo']);
      const text = await words(page);
      expect(text).toContain('I did not understand: “gizmo”.');
      expect(text).toContain('Understood, but by itself it does not say where to look: “rattles”.');
      expect(text).toContain('Your own words stay as they are, and go on the ticket.');
      expect(trouble).toEqual([]);
      await page.context().close();
    },
  );

  it('goes on with a kind word where nothing of it was understood; the first answer stays on the first screen', async () => {
    const page = await bench.phone();
    await openVisit(pointerHands(page), bench.server.address, {
      who: 'Band director',
      complaint: `it frobnicates ${'and frobnicates '.repeat(25)}`,
    });
    expect(await words(page)).toContain(
      'I could not tell from your words where to look, so I ask one thing at a time.',
    );
    const first = await page.getByRole('button', { name: 'The school or the band' }).boundingBox();
    expect(first!.y + first!.height).toBeLessThanOrEqual(page.viewportSize()!.height);
    await page.context().close();
  });

  it('is confirmed by taps, and its notes need not be played again', async () => {
    const page = await bench.phone();
    const trouble = watchForTrouble(page);
    const visit = await openVisit(pointerHands(page), bench.server.address, {
      who: 'Band director',
      toHand: ['A small flat screwdriver'],
      complaint: 'nothing comes out below D since she droped it',
    });

    expect(await headline(page)).toBe('Did I understand you?');
    expect(await words(page)).toContain('nothing comes out below D since she droped it');
    const boxes = page.getByRole('checkbox');
    expect(await boxes.evaluateAll((all) => all.filter((box) => (box as HTMLInputElement).checked))).toEqual(
      [],
    );
    await visit.hands.press(
      page.getByRole('checkbox', { name: 'Nothing from low B flat up to low C sharp speaks.' }),
    );
    await visit.hands.press(page.getByRole('checkbox', { name: 'Low D speaks.' }));
    const pageWidth = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(pageWidth).toBeLessThanOrEqual(page.viewportSize()!.width);
    await visit.answer('Go on with what I ticked');

    const patient = bench.patient('slack@link.fsharp-holds-gsharp');
    const pressed = await visit.walk(
      () => patient,
      { owner: 'The school or the band', 'owner-word': 'Yes' },
      { until: ['play-test'] },
    );
    expect(pressed.join(' ')).not.toContain('dropped@instrument');
    expect(await words(page)).toMatch(/5 of \d+ played/);
    expect((await visit.run()).step.notes.filter(({ answered }) => answered !== null)).toHaveLength(5);
    expect(trouble).toEqual([]);
  });
});
