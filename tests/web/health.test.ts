import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type PaperApp, startPaperApp } from './support/paper-app.ts';

let paper: PaperApp;
let isReady = true;

beforeAll(async () => {
  paper = await startPaperApp({ isReady: () => isReady });
});

afterAll(() => paper.app.close());

describe('the two addresses for whoever watches over the server', () => {
  test('say that it is up and ready', async () => {
    expect((await paper.agent.get('/healthz')).body).toEqual({ status: 'up' });
    expect((await paper.agent.get('/readyz')).body).toEqual({ status: 'ready' });
  });

  test('say that it is up but not ready while the store takes no answers', async () => {
    isReady = false;
    expect((await paper.agent.get('/healthz')).status).toBe(200);
    const { status, body } = await paper.agent.get('/readyz').set('accept', 'application/json');
    expect(status).toBe(503);
    expect(body.type).toBe('/problems/store-unavailable');
  });
});
