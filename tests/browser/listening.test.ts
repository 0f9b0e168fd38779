/**
 * The play-test page listens in a real browser whose microphone hears a file.
 *
 * Sources: the sounds are made here (tests/listening/support/tones.ts), so pitch and fault are known; the frequency of the
 * note is that of written low C sharp on an alto saxophone, sounding E3, in equal temperament at A4 = 440 Hz (ISO 16:1975),
 * by the library tonal. What is a secure context: W3C, Secure Contexts, section 3.1.
 */
import type { Browser, Page, Request } from 'playwright-core';
import { Note } from 'tonal';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import type { RunView } from '../../src/runs/view.ts';
import { makeNoise, makeTone } from '../listening/support/tones.ts';
import { type BrowserBench, openBrowserBench, watchForTrouble } from './support/bench.ts';
import { launchBrowser, openPhone } from './support/browser.ts';
import { type HearingBrowser, launchHearing } from './support/microphone.ts';
import { seen } from './support/reading.ts';
import { makeReadyRun } from './support/ready-run.ts';

const sounding = Note.freq('E3')!;
const row = '#note-fg-Cs4';

let bench: BrowserBench;
let run: string;
const opened: (HearingBrowser | Browser)[] = [];

beforeAll(async () => {
  bench = await openBrowserBench();
});
afterEach(async () => {
  for (const browser of opened.splice(0)) await browser.close();
});
afterAll(() => bench.dispose());

async function openPlayTest(browser: Browser, address = bench.server.address): Promise<Page> {
  run = await makeReadyRun(bench.server.address, bench.patient(null), {
    until: 'play-test',
    playNote: () => null,
  });
  const page = await openPhone(browser);
  await page.goto(`${address}/r/${run}`);
  return page;
}

/** A page whose microphone hears a sound, listened to at low C sharp until it says something. */
async function listen(sound: Float32Array): Promise<{ page: Page; requests: Request[]; trouble: string[] }> {
  const hearing = await launchHearing(sound);
  opened.push(hearing);
  const page = await openPlayTest(hearing.browser);
  const trouble = watchForTrouble(page);
  const requests: Request[] = [];
  page.on('request', (request) => requests.push(request));
  await page.locator(`${row} .listen-start`).click();
  await page.waitForFunction(
    (place) => {
      const text = document.querySelector(`${place} .listen:not(.is-listening) .listen-says`)?.textContent;
      return text !== undefined && text !== '';
    },
    row,
    { timeout: 40_000 },
  );
  return { page, requests, trouble };
}

const says = (page: Page) => seen(page.locator(`${row} .listen-says`));
const proposed = (page: Page) => page.locator('.is-proposed').allTextContents();

describe('listening to a note', () => {
  it('proposes "Speaks" for the right note, sends nothing by itself, and takes the tap as the answer', async () => {
    const { page, requests, trouble } = await listen(
      makeTone({ frequency: sounding, seconds: 8, noise: 30 }),
    );
    expect(await says(page)).toBe('The note came and held. Proposed: Speaks. Tap it if you agree.');
    expect(await proposed(page)).toEqual(['Speaks']);
    const hasFocus = page.locator(`${row} .is-proposed:focus`);
    expect(await hasFocus.getAttribute('aria-describedby')).toBe('note-fg-Cs4-says');
    // Only the modules were fetched: no sound, no answer.
    expect(requests.map((request) => request.method()).filter((method) => method !== 'GET')).toEqual([]);
    expect(requests.filter((request) => !request.url().includes('/assets/'))).toEqual([]);
    expect(await seen(page.locator('#notes-count'))).toMatch(/^0 of/);

    const sent = page.waitForRequest((request) => request.method() === 'POST');
    await page.keyboard.press('Enter');
    expect((await sent).postData()).toMatch(/note=fg\.Cs4\+speaks/);
    await page.locator(`${row}.is-answered`).waitFor();
    expect(await seen(page.locator('#notes-count'))).toMatch(/^1 of/);
    expect(trouble).toEqual([]);
  });

  it('proposes "Unsteady" for a note that wavers', async () => {
    const wavering = makeTone({ frequency: sounding, seconds: 8, beating: { depth: 0.6, rate: 9 } });
    const { page } = await listen(wavering);
    expect(await proposed(page)).toEqual(['Unsteady']);
    expect(await says(page)).toContain('Its loudness wavers, about 9 times a second.');
  });

  it('proposes "Wrong note" with the note that came out, and one tap tells both', async () => {
    const { page } = await listen(makeTone({ frequency: Note.freq('F#3')!, seconds: 8, noise: 30 }));
    expect(await proposed(page)).toEqual(['Wrong note']);
    expect(await says(page)).toContain('Eb4 came out.');
    await page.locator(`${row} .is-proposed`).click();
    await page.locator(`${row} .heard`).waitFor();
    expect(await page.locator(`${row} .heard select`).inputValue()).toBe('Eb4');
  });

  it('proposes "Silent" when only the room is heard', async () => {
    const { page } = await listen(makeNoise(8, 0.001));
    expect(await proposed(page)).toEqual(['Silent']);
    expect(await says(page)).toContain('Nothing was heard above the quiet of the room.');
  });

  it('proposes nothing when the microphone gives nothing, and says what to do', async () => {
    const { page } = await listen(new Float32Array(8 * 48_000));
    expect(await proposed(page)).toEqual([]);
    expect(await says(page)).toMatch(/^Not sure\. The microphone gives no sound at all\..* answer by ear\.$/);
    expect(await page.locator(`${row} .listen-start:focus`).count()).toBe(1);
  });

  it('can be stopped, and says so when the microphone goes away', async () => {
    const hearing = await launchHearing(makeNoise(8, 0.001));
    opened.push(hearing);
    const page = await openPlayTest(hearing.browser);
    await page.evaluate(() => {
      const ask = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
      navigator.mediaDevices.getUserMedia = async (wanted) => {
        const stream = await ask(wanted);
        // What a browser tells when the plug is pulled.
        addEventListener('unplug', () => stream.getTracks()[0]?.dispatchEvent(new Event('ended')));
        return stream;
      };
    });
    const begin = async () => {
      await page.locator(`${row} .listen-start`).click();
      await page.getByText('Play low C sharp now, and hold it.').waitFor();
    };
    await begin();
    await page.locator(`${row} .listen-start`).click();
    await page.locator(`${row} .listen:not(.is-listening)`).waitFor();
    expect(await says(page)).toBe('');
    await begin();
    await page.evaluate(() => dispatchEvent(new Event('unplug')));
    await page.getByText('The microphone went away.').waitFor();
    expect(await proposed(page)).toEqual([]);
  });
});

describe('listening while a screw is turned', () => {
  const givesWay = (note: string) =>
    makeTone({
      frequency: Note.freq(note)!,
      seconds: 9,
      beating: { depth: 0.7, rate: 3 },
      vibrato: { cents: 30, rate: 3 },
    });

  it('draws how much the note wavers turn by turn, answers nothing, and forgets it when the work is over', async () => {
    const fault = 'slack@link.fsharp-holds-gsharp';
    run = await makeReadyRun(bench.server.address, bench.patient(fault), {
      until: 'procedure.turn-screw.turn-quarter',
    });
    const { step } = (await (await fetch(`${bench.server.address}/api/runs/${run}`)).json()) as RunView;
    const hearing = await launchHearing(givesWay(step.wavering!.tone.sounding));
    opened.push(hearing);
    const page = await openPhone(hearing.browser);
    const trouble = watchForTrouble(page);
    await page.goto(`${bench.server.address}/r/${run}`);

    const summary = page.getByText('Let the page hear whether the note wavers');
    await summary.click();
    await page.locator('.wavering .listen-start').click();
    await page.getByText(/^Before the first turn the note wavers/).waitFor();
    const drawing = page.getByRole('img', {
      name: /^How much the note wavers: before the first turn it wavers/,
    });
    expect(await drawing.locator('.plot-point').count()).toBe(1);

    await page.getByRole('button', { name: 'Turned', exact: true }).click();
    await page.getByRole('heading', { name: 'Test it' }).waitFor();
    // What was heard before the turn is still drawn on the page after it.
    await drawing.waitFor();
    await page.locator('.wavering .listen-start').click();
    await page.getByText(/^After a quarter turn the note wavers/).waitFor();
    expect(await drawing.locator('.plot-point').count()).toBe(2);
    expect(await drawing.getAttribute('aria-label')).toContain('; after a quarter turn it wavers');
    expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe('Test it');

    await walkOn(page, ['It is gone', 'Yes', 'Yes, in order', 'Done']);
    await page.locator('.note').first().waitFor();
    expect(await page.evaluate(() => sessionStorage.length)).toBe(0);
    expect(trouble).toEqual([]);
  });

  async function walkOn(page: Page, answers: string[]): Promise<void> {
    for (const answer of answers) {
      const loaded = page.waitForNavigation();
      await page.getByRole('button', { name: answer, exact: true }).click();
      await loaded;
    }
  }
});

describe('where listening is not to be had', () => {
  it('says in words that the browser refused the microphone', async () => {
    const browser = await launchBrowser([
      '--use-fake-device-for-media-stream',
      '--use-fake-ui-for-media-stream=deny',
    ]);
    opened.push(browser);
    const page = await openPlayTest(browser);
    await page.locator(`${row} .listen-start`).click();
    await page.getByText('The browser may not use the microphone here.').waitFor();
    expect(await proposed(page)).toEqual([]);
  });

  it('says in words that there is no microphone', async () => {
    const page = await bench.phone({ permissions: ['microphone'] });
    run = await makeReadyRun(bench.server.address, bench.patient(null), {
      until: 'play-test',
      playNote: () => null,
    });
    await page.goto(`${bench.server.address}/r/${run}`);
    await page.locator(`${row} .listen-start`).click();
    await page.getByText('There is no microphone on this device. Answer by ear.').waitFor();
  });

  it('says over plain http from another computer why there is none, and offers no button', async () => {
    const browser = await launchBrowser(['--host-resolver-rules=MAP band.example 127.0.0.1']);
    opened.push(browser);
    const { port } = new URL(bench.server.address);
    const page = await openPlayTest(browser, `http://band.example:${port}`);
    await page.getByText('browsers give no microphone to a page that comes over plain http').waitFor();
    expect(await page.locator(`${row} .listen-start`).isVisible()).toBe(false);
  });

  it('shows nothing of it without scripts', async () => {
    const page = await bench.phone({ javaScriptEnabled: false });
    run = await makeReadyRun(bench.server.address, bench.patient(null), {
      until: 'play-test',
      playNote: () => null,
    });
    await page.goto(`${bench.server.address}/r/${run}`);
    expect(await page.locator(`${row} .listen-start`).isVisible()).toBe(false);
    expect(await seen(page.locator('main'))).not.toMatch(/listen/i);
  });
});
