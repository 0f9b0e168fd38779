import { readdirSync, readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type PaperApp, startPaperApp } from './support/paper-app.ts';

let paper: PaperApp;
let stylePath: string;

beforeAll(async () => {
  paper = await startPaperApp();
  stylePath = /rel="stylesheet" href="([^"]+)"/.exec((await paper.agent.get('/')).text)?.[1] ?? '';
});

afterAll(() => paper.app.close());

const folder = new URL('../../views/assets/', import.meta.url);

describe('the files beside a page', () => {
  test('have an address that holds their hash, and may be kept for ever', async () => {
    const { headers } = await paper.agent.get(stylePath);
    expect(stylePath).toMatch(/^\/assets\/[\w-]{16}\/quarter-turn\.css$/);
    expect(headers['cache-control']).toBe('public, max-age=31536000, immutable');
    expect(headers['content-type']).toBe('text/css; charset=utf-8');
  });

  test('under the hash of another version are not found', async () => {
    expect((await paper.agent.get('/assets/0000000000000000/quarter-turn.css')).status).toBe(404);
    expect((await paper.agent.get(stylePath.replace('quarter-turn.css', '..%2flayout.hbs'))).status).toBe(
      404,
    );
  });

  test('hold every part of the style', async () => {
    const { text } = await paper.agent.get(stylePath);
    for (const file of readdirSync(folder).filter((name) => name.endsWith('.css'))) {
      const [rule = ''] = /^[^@/*\n][^\n]*\{$/m.exec(readFileSync(new URL(file, folder), 'utf8')) ?? [];
      expect(text).toContain(rule);
    }
  });

  test('ask nothing of another host', () => {
    for (const file of readdirSync(folder, { recursive: true, encoding: 'utf8' })) {
      if (!/\.\w+$/.test(file)) continue;
      const text = readFileSync(new URL(file, folder), 'utf8').replaceAll('http://www.w3.org/2000/svg', '');
      expect(text).not.toMatch(/https?:|@import|url\(/);
    }
  });
});

describe('compression', () => {
  test('is for clients that take it', async () => {
    const plain = await paper.agent.get(stylePath).set('accept-encoding', 'identity');
    expect(plain.headers['content-encoding']).toBeUndefined();
    for (const refusal of ['gzip;q=0', 'br, gzip;q=0.0, identity']) {
      const { headers } = await paper.agent.get(stylePath).set('accept-encoding', refusal);
      expect(headers['content-encoding']).toBeUndefined();
    }
    const packed = await paper.app.inject({ url: stylePath, headers: { 'accept-encoding': 'gzip, br' } });
    expect(packed.headers['content-encoding']).toBe('gzip');
    expect(packed.headers.vary).toBe('accept-encoding');
    expect(gunzipSync(packed.rawPayload).toString()).toBe(plain.text);
  });

  test('is for long pages only', async () => {
    const headers = { 'accept-encoding': 'gzip' };
    const id = await paper.openRun();
    await paper.play(id, 'yes', 'tight');
    const long = await paper.app.inject({ url: `/r/${id}`, headers });
    expect(long.headers['content-encoding']).toBe('gzip');
    expect(gunzipSync(long.rawPayload).toString()).toContain('Play these first');
    const short = await paper.app.inject({ url: '/healthz', headers });
    expect(short.headers['content-encoding']).toBeUndefined();
  });

  test('keeps everything that a first page needs under 60 kB', async () => {
    const { text } = await paper.agent.get('/');
    const urls = [
      '/',
      ...new Set([...text.matchAll(/(?:href|src)="(\/assets\/[^"]+)"/g)].map(([, url = '']) => url)),
    ];
    expect(urls.length).toBeGreaterThan(2);
    let bytes = 0;
    for (const url of urls) {
      bytes += (await paper.app.inject({ url, headers: { 'accept-encoding': 'gzip' } })).rawPayload.length;
    }
    expect(bytes).toBeLessThan(60_000);
  });
});
