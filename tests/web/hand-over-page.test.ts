import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { drawQr } from '../../src/web/qr-picture.ts';
import { spellOut } from '../../src/web/spelling.ts';
import { type PaperApp, startPaperApp } from './support/paper-app.ts';
import { readQr } from './support/read-qr.ts';

let paper: PaperApp;
beforeAll(async () => {
  paper = await startPaperApp();
});
afterAll(() => paper.app.close());

const svgOf = (html: string) => /<svg class="qr"[\s\S]*?<\/svg>/.exec(html)?.[0] ?? '';
const handOver = (app: PaperApp, id: string, host = 'band-room.local:3000') =>
  app.agent.get(`/r/${id}/hand-over`).set('host', host);

describe('the page to hand a run over', () => {
  test('shows the code in groups, and how to say it on the telephone', async () => {
    const id = await paper.openRun();
    const { text } = await handOver(paper, id);
    for (const group of id.split('-')) expect(text).toContain(`<span>${group.toUpperCase()}</span>`);
    expect(text).toContain(`<li>${spellOut(id.split('-')[0] ?? '')}</li>`);
  });

  test('links to the address that the browser used, in words and in the QR picture', async () => {
    const id = await paper.openRun();
    const { text } = await handOver(paper, id);
    const link = `http://band-room.local:3000/r/${id}`;
    expect(text).toContain(`>${link}</a>`);
    expect(readQr(svgOf(text))).toEqual({ text: link, quietZone: 4, level: 'M' });
  });

  test('says where the run stands', async () => {
    const id = await paper.openRun('invented: low notes fail');
    await paper.play(id, 'yes');
    const { text } = await handOver(paper, id);
    expect(text).toContain('1 answer was given so far, by: Band director.');
    expect(text).toContain('The complaint: “invented: low notes fail”');
    expect(text).toContain('The step of now: “Does the neck turn too easily?”.');
  });

  test('says that an address of this device leads nobody else here', async () => {
    const id = await paper.openRun();
    expect((await handOver(paper, id, 'localhost:3000')).text).toContain('leads only to this very device');
    expect((await handOver(paper, id)).text).not.toContain('leads only to this very device');
  });

  test('believes no proxy, but PUBLIC_URL', async () => {
    const behind = await startPaperApp({ environment: { PUBLIC_URL: 'https://band.example.org' } });
    const id = await behind.openRun();
    const { text } = await handOver(behind, id).set('x-forwarded-host', 'evil.example');
    expect(readQr(svgOf(text)).text).toBe(`https://band.example.org/r/${id}`);
    await behind.app.close();
    const plain = await handOver(paper, await paper.openRun()).set('x-forwarded-host', 'evil.example');
    expect(plain.text).not.toContain('evil.example');
  });

  test('makes no link of a host that is none', async () => {
    const id = await paper.openRun();
    const { status, text } = await handOver(paper, id, 'evil"><b>');
    expect(status).toBe(200);
    expect(text).not.toContain('evil');
    expect(text).not.toContain('class="qr"');
    expect(text).toContain('Give the address of this page together with the code.');
  });

  test('is linked from every step', async () => {
    const id = await paper.openRun();
    expect((await paper.agent.get(`/r/${id}`)).text).toContain(`href="/r/${id}/hand-over"`);
  });
});

describe('a QR picture', () => {
  test('reads as what it was made from, whatever the host and the code', () => {
    const hosts = fc.stringMatching(/^[a-z]{1,20}(\.[a-z]{2,12}){0,2}(:\d{2,5})?$/);
    const codes = fc.stringMatching(/^[2-9a-hj-km-np-z]{4}(-[2-9a-hj-km-np-z]{4}){2}$/);
    fc.assert(
      fc.property(hosts, codes, (host, code) => {
        const link = `https://${host}/r/${code}`;
        expect(readQr(drawQr(link, 'x')).text).toBe(link);
      }),
    );
  });

  test('is dark on white whatever the page is', () => {
    expect(drawQr('x', 'A title')).toMatch(
      /<title id="qr-title">A title<\/title><rect [^>]*fill="#fff"\/><path fill="#000"/,
    );
  });
});

test('a code is spelled in the words of the radio alphabet, figures as they are', () => {
  expect(spellOut('k3zx')).toBe('Kilo 3 Zulu X-ray');
});
