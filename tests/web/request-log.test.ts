import { Writable } from 'node:stream';
import { pino } from 'pino';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type PaperApp, startPaperApp } from './support/paper-app.ts';

let paper: PaperApp;
const written: string[] = [];

beforeAll(async () => {
  const stream = new Writable({
    write(chunk, _encoding, done) {
      written.push(String(chunk));
      done();
    },
  });
  paper = await startPaperApp({
    logger: pino({ base: null }, stream),
    runs: {
      async outcome() {
        throw new Error('unforeseen');
      },
    },
  });
});

afterAll(() => paper.app.close());

const readLines = () => written.map((line) => JSON.parse(line) as Record<string, unknown>);

describe('the log', () => {
  test('has one line a request: method, route pattern, status and milliseconds', async () => {
    const id = await paper.openRun();
    written.length = 0;
    await paper.agent.get(`/r/${id}`);
    expect(readLines()).toEqual([
      {
        level: 30,
        time: expect.any(Number),
        request: expect.stringMatching(/^[0-9a-f-]{36}$/),
        method: 'GET',
        route: '/r/:id',
        status: 200,
        ms: expect.any(Number),
        msg: 'request',
      },
    ]);
  });

  test('holds nothing that people typed or sent, nor the code of a run', async () => {
    written.length = 0;
    const canary = 'canary7f3';
    const id = await paper.openRun(`${canary} complaint`);
    await paper.agent.get(`/r/${id}?x=${canary}`).set('cookie', `a=${canary}`).set('authorization', canary);
    await paper.agent.get(`/runs?code=${canary}`);
    await paper.agent.get(`/r/${canary}`);
    await paper.agent.get(`/${canary}/${canary}`);
    await paper.agent.get(`/%zz${canary}`);
    await paper.agent.post('/runs').type('form').send({ complaint: canary, key: canary });
    await paper.agent
      .post('/api/runs')
      .set('idempotency-key', canary)
      .send({ instrument: canary, person: 'desk' });
    await paper.agent.post('/api/runs').send(`{"${canary}"`).type('json');
    await paper.agent
      .post(`/r/${id}/answers`)
      .type('form')
      .send(`revision=0&key=${canary}-key&choice=${canary}`);
    expect(written.length).toBeGreaterThanOrEqual(9);
    expect(written.join('')).not.toContain(canary);
    expect(written.join('')).not.toContain(`/r/${id}`);
  });

  test('keeps an unexpected error with its stack under the number that the reader got', async () => {
    written.length = 0;
    const { body } = await paper.agent.get('/api/runs/some-run/outcome');
    const [error] = readLines().filter(({ level }) => level === 50);
    expect(body.instance).toBe(`urn:uuid:${error?.request}`);
    expect(error).toMatchObject({ route: '/api/runs/:id/outcome', err: { message: 'unforeseen' } });
    expect(JSON.stringify(error)).not.toContain('some-run');
  });

  test('stays one line when somebody sends line breaks', async () => {
    written.length = 0;
    await paper.agent.get('/a%0d%0a{"level":60}');
    expect(written.join('').trim().split('\n')).toHaveLength(1);
  });
});
