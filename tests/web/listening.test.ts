import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type PaperApp, startPaperApp } from './support/paper-app.ts';

let paper: PaperApp;
let path: string;
let page: string;
let base: string;

beforeAll(async () => {
  paper = await startPaperApp();
  const id = await paper.openRun();
  await paper.play(id, 'yes', 'tight');
  path = `/r/${id}`;
  page = (await paper.agent.get(path)).text;
  base = /src="(\/assets\/[^/"]+)\/listen\.js"/.exec(page)?.[1] ?? '';
});

afterAll(() => paper.app.close());

/** Follows the imports of a module, as a browser does, and gives the text of each by its address. */
async function load(start: string): Promise<Map<string, string>> {
  const texts = new Map<string, string>();
  const waiting = [start];
  for (let url = waiting.pop(); url !== undefined; url = waiting.pop()) {
    if (texts.has(url)) continue;
    const { status, text, headers } = await paper.agent.get(url);
    expect({ url, status, type: headers['content-type'] }).toEqual({
      url,
      status: 200,
      type: 'text/javascript; charset=utf-8',
    });
    texts.set(url, text);
    const imports = /(?:^import\s(?:[^'";]*\sfrom\s)?|\bimport\(|new URL\()['"]([^'"]+)['"]/gm;
    const names = [...text.matchAll(imports)];
    for (const [, name = ''] of names) {
      expect(name, `in ${url}`).toMatch(/^\.\.?\//);
      waiting.push(new URL(name, `http://here${url}`).pathname);
    }
  }
  return texts;
}

describe('the modules that listen', () => {
  test('are found by the addresses that they name, libraries too', async () => {
    const texts = await load(`${base}/listen.js`);
    const names = [...texts.keys()].map((url) => url.slice(base.length + 1)).sort();
    expect(names).toContain('listening/pitchy.js');
    expect(names).toContain('listening/fft.js');
    expect(names).toContain('listening/judge.js');
    expect(names).toContain('listening/samples.js');
  });

  test('carry the licences of the libraries among them', async () => {
    for (const [file, holder] of [
      ['pitchy.js', 'Ian Johnson'],
      ['fft.js', 'Fedor Indutny'],
    ]) {
      const { text } = await paper.agent.get(`${base}/listening/${file}`);
      expect(text).toContain(holder);
      expect(text).toContain('Permission is hereby granted, free of charge');
    }
  });

  test('are not loaded with the page, only the button’s own script, and weigh under 30 kB when they are', async () => {
    expect(page).not.toContain('/listening/');
    const texts = await load(`${base}/listen.js`);
    let bytes = 0;
    for (const url of texts.keys()) {
      const { rawPayload } = await paper.app.inject({ url, headers: { 'accept-encoding': 'gzip' } });
      expect(gunzipSync(rawPayload).toString()).toBe(texts.get(url));
      bytes += rawPayload.length;
    }
    expect(bytes).toBeLessThan(30_000);
  });
});

describe('the play-test page', () => {
  test('tells the listener for each note how it sounds, worked out from the transposition', () => {
    // Written C#4 on an alto saxophone sounds E3: 164.81 Hz at A4 = 440 Hz (ISO 16:1975).
    expect(page).toContain(
      'data-frequency="164.81" data-mode="2" data-note="C#4" data-name="low C sharp" data-fingering="fg.Cs4"',
    );
  });

  test('says where the sound stays, and what the listener cannot tell', () => {
    expect(page).toContain('Nothing is recorded and no sound leaves this device');
    expect(page).toContain('Its figures were set on made-up tones and sampled notes');
  });
});

describe('the microphone', () => {
  test('may be asked for on the pages of a run alone', async () => {
    const policy = async (url: string) => (await paper.agent.get(url)).headers['permissions-policy'];
    expect(await policy(path)).toContain('microphone=(self)');
    for (const url of ['/', '/api', `${path}/why`, '/r/nobody', `${base}/listen.js`]) {
      expect(await policy(url)).toContain('microphone=()');
    }
  });
});
