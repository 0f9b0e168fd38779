/** The pages of the example run: one link from the start page, to be read, and kind to whoever tries to answer. */
import type { FastifyInstance } from 'fastify';
import supertest from 'supertest';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { buildApp } from '../../src/app.ts';
import { readConfig } from '../../src/config.ts';
import { createLibrary } from '../../src/library/create-library.ts';
import { openRunsBench, type RunsBench } from '../support/runs-bench.ts';
import { readHidden } from './support/paper-app.ts';
import { readText } from './support/read-html.ts';

let bench: RunsBench;
let app: FastifyInstance;
let agent: ReturnType<typeof supertest>;

beforeAll(async () => {
  bench = await openRunsBench();
  const config = readConfig({ LOG_LEVEL: 'silent' });
  app = buildApp({ config, runs: bench.runs, library: createLibrary(bench.content) });
  await app.ready();
  agent = supertest(app.server);
});

afterAll(async () => {
  await app.close();
  await bench.dispose();
});

const linkIn = (html: string, pattern: RegExp): string | undefined => pattern.exec(html)?.[1];

describe('reading the example', () => {
  test('is one link from the start page, and says at once that it is invented', async () => {
    const { text: start } = await agent.get('/');
    const path = linkIn(start, /href="([^"]*)">Read an example/);
    const { text, status } = await agent.get(path ?? '');
    expect(status).toBe(200);
    expect(readText(text)).toContain('This is an example, page 1 of');
    expect(readText(text)).toContain('are invented');
  });

  test('goes on by links alone to the outcome, each page with what was answered on it', async () => {
    let path: string | undefined = '/r/example';
    const answers: string[] = [];
    let text = '';
    for (let count = 0; path !== undefined && count < 100; count += 1) {
      text = (await agent.get(path).expect(200)).text;
      answers.push(linkIn(text, /In the example they answered: <b>([^<]*)<\/b>/) ?? '');
      path = linkIn(text, /href="([^"]*)" rel="next"/);
    }
    expect(answers.length).toBeGreaterThan(10);
    expect(answers.slice(0, -1)).not.toContain('');
    expect(answers.at(-1)).toBe('');
    expect(text).toContain('href="/">Start your own</a>');
    expect(text).toContain('What was done');
  });

  test('shows its reasons, and offers no change of an answer', async () => {
    const { text } = await agent.get('/r/example-9').expect(200);
    expect(text).not.toContain('/change/');
    await agent.get('/r/example-9/why').expect(200);
  });
});

describe('answering the example', () => {
  test('shows the same page again with a kind word, and changes nothing', async () => {
    const { text: before } = await agent.get('/r/example-3');
    const choice = linkIn(before, /name="choice" value="([^"]+)"/);
    const { status, text } = await agent
      .post('/r/example-3/answers')
      .type('form')
      .send({ ...readHidden(before, /answers/), choice });
    expect(status).toBe(403);
    expect(text).toMatch(/role="alert"[\s\S]*This is an example[\s\S]*Start a run of your own/);
    expect(linkIn(text, /<h1>([^<]*)/)).toBe(linkIn(before, /<h1>([^<]*)/));
    const { text: after } = await agent.get('/r/example-3');
    expect(readHidden(after, /answers/)).toEqual(readHidden(before, /answers/));
  });

  test('by the API is refused with a problem document', async () => {
    const { body } = await agent
      .post('/api/runs/example-3/answers')
      .send({ revision: 0, key: 'a-key-of-mine', answer: { type: 'choice', choice: 'done' } })
      .expect(403);
    expect(body).toMatchObject({ title: 'This is an example', status: 403 });
  });

  test('is no obstacle to a real run, which says nothing of an example', async () => {
    const opened = await agent.post('/api/runs').send({ instrument: 'alto-saxophone', person: 'desk' });
    expect(opened.body.example).toBeNull();
    expect((await agent.get(`/r/${opened.body.id}`)).text).not.toContain('This is an example');
  });
});
