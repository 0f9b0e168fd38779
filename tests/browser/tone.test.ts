/** The tone to compare with, as a phone plays it: read from the oscillators that the page makes. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type BrowserBench, openBrowserBench, watchForTrouble } from './support/bench.ts';
import { makeReadyRun } from './support/ready-run.ts';

/** What the page did with one oscillator so far. */
type Heard = { frequency: number; isStarted: boolean; isEnded: boolean };
type Listening = typeof globalThis & { readHeard: () => Heard[] };

let bench: BrowserBench;
let address: string;
beforeAll(async () => {
  bench = await openBrowserBench();
  const id = await makeReadyRun(bench.server.address, bench.patient('slack@link.fsharp-holds-gsharp'), {
    until: 'play-test',
    playNote: () => null,
  });
  address = `${bench.server.address}/r/${id}`;
});
afterAll(() => bench.dispose());

/** Notes every oscillator that a page makes; the sound itself is left as it is. */
function listen(): void {
  const heard: { oscillator: OscillatorNode; isStarted: boolean; isEnded: boolean }[] = [];
  const create = AudioContext.prototype.createOscillator;
  AudioContext.prototype.createOscillator = function () {
    const oscillator = create.call(this);
    const entry = { oscillator, isStarted: false, isEnded: false };
    heard.push(entry);
    const start = oscillator.start;
    oscillator.start = (when?: number) => {
      entry.isStarted = true;
      start.call(oscillator, when);
    };
    oscillator.addEventListener('ended', () => {
      entry.isEnded = true;
    });
    return oscillator;
  };
  (globalThis as Listening).readHeard = () =>
    heard.map(({ oscillator, ...rest }) => ({ ...rest, frequency: oscillator.frequency.value }));
}

async function openRow(options: { script?: string; javaScriptEnabled?: boolean } = {}): Promise<Page> {
  const { script, ...context } = options;
  const page = await bench.phone(context);
  await page.addInitScript(listen);
  if (script !== undefined) await page.addInitScript(script);
  await page.goto(address);
  return page;
}

const heardOn = (page: Page): Promise<Heard[]> => page.evaluate(() => (globalThis as Listening).readHeard());
const row = (page: Page, name: string) => page.getByRole('region', { name, exact: true });
const hearIt = (page: Page, name: string) => row(page, name).locator('.tone');
/** Written C#4 sounds as E3 on an alto. */
const cSharp = 164.81;

describe('"Hear it"', () => {
  test('starts the tone that the note sounds as, and a second tap ends it', async () => {
    const page = await openRow();
    const trouble = watchForTrouble(page);
    const button = hearIt(page, 'low C sharp C#4');
    expect(await heardOn(page)).toEqual([]);
    await button.click();
    expect(await button.textContent()).toContain('Stop');
    const [first] = await heardOn(page);
    expect(first).toMatchObject({ isStarted: true, isEnded: false });
    expect(first?.frequency).toBeCloseTo(cSharp, 2);
    await button.click();
    expect(await button.textContent()).toContain('Hear it');
    await page.waitForFunction(() => (globalThis as Listening).readHeard().every(({ isEnded }) => isEnded));
    expect(trouble).toEqual([]);
  });

  test('ends one tone when another begins, and when an answer is given', async () => {
    const page = await openRow();
    await hearIt(page, 'low C sharp C#4').click();
    await hearIt(page, 'low D D4').click();
    await page.waitForFunction(() => (globalThis as Listening).readHeard()[0]?.isEnded);
    expect((await heardOn(page)).map(({ isEnded }) => isEnded)).toEqual([true, false]);
    await row(page, 'low D D4').getByRole('button', { name: 'Could not tell' }).click();
    await page.waitForFunction(() => (globalThis as Listening).readHeard().every(({ isEnded }) => isEnded));
  });

  test('follows the A that is set, which the browser keeps', async () => {
    const page = await openRow();
    await page.getByText('Tune the tone').click();
    const higher = page.getByRole('button', { name: '1 Hz higher' });
    await higher.click();
    await higher.click();
    expect(await page.locator('.tuning-a').textContent()).toBe('442');
    await page.reload();
    expect(await page.locator('.tuning-a').textContent()).toBe('442');
    await hearIt(page, 'low C sharp C#4').click();
    expect((await heardOn(page))[0]?.frequency).toBeCloseTo((cSharp * 442) / 440, 2);
  });

  test('stays between 430 and 450 Hz, and at 440 where something else was kept or nothing can be', async () => {
    const store = (value: string) => `localStorage.setItem('quarter-turn-tuning-a', '${value}')`;
    const shown = (page: Page) => page.locator('.tuning-a').textContent();
    const top = await openRow({ script: store('450') });
    await top.getByText('Tune the tone').click();
    await top.getByRole('button', { name: '1 Hz higher' }).click();
    expect(await shown(top)).toBe('450');
    for (const odd of ['9000', 'loud', ''])
      expect(await shown(await openRow({ script: store(odd) }))).toBe('440');
    const shut = await openRow({
      script: `Object.defineProperty(globalThis, 'localStorage', { get() { throw new Error('not allowed'); } })`,
    });
    expect(await shown(shut)).toBe('440');
    await hearIt(shut, 'low C sharp C#4').click();
    expect((await heardOn(shut))[0]?.frequency).toBeCloseTo(cSharp, 2);
  });

  test('is not offered where no script runs; how the note sounds is told in words', async () => {
    const page = await bench.phone({ javaScriptEnabled: false });
    await page.goto(address);
    expect(await hearIt(page, 'low C sharp C#4').isVisible()).toBe(false);
    expect(await page.getByText('Tune the tone').isVisible()).toBe(false);
    await row(page, 'low C sharp C#4').getByText('Words', { exact: true }).click();
    expect(await row(page, 'low C sharp C#4').getByText('It sounds as E3').isVisible()).toBe(true);
  });
});

test('a note on the play test takes less than half of a phone’s screen, and its buttons a thumb each', async () => {
  const page = await openRow();
  const box = await row(page, 'low C sharp C#4').boundingBox();
  expect(box?.height).toBeLessThan(740 / 2);
  for (const button of await row(page, 'low C sharp C#4').getByRole('button').all()) {
    const size = await button.boundingBox();
    expect(
      Math.min(size?.width ?? 0, size?.height ?? 0),
      (await button.textContent()) ?? '',
    ).toBeGreaterThanOrEqual(44);
  }
});
