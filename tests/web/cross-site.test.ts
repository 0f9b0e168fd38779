import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type PaperApp, startPaperApp } from './support/paper-app.ts';

let paper: PaperApp;
let id: string;

beforeAll(async () => {
  paper = await startPaperApp({ environment: { PUBLIC_URL: 'https://band.example.org' } });
  id = await paper.openRun();
});

afterAll(() => paper.app.close());

const post = (headers: Record<string, string>) =>
  paper.agent
    .post(`/r/${id}/answers`)
    .set(headers)
    .type('form')
    .send('revision=9&key=cross-site-key&choice=yes');

describe('a write that comes from elsewhere', () => {
  test.each([
    { 'sec-fetch-site': 'cross-site' },
    { 'sec-fetch-site': 'same-site', origin: 'https://band.example.org' },
    { origin: 'https://elsewhere.example' },
    { origin: 'null' },
    { origin: 'https://band.example.org.elsewhere.example' },
  ])('is refused: %o', async (headers) => {
    const response = await post(headers);
    expect(response.status).toBe(403);
    expect(response.text).toContain('The request came from another site');
    expect((await paper.runs.view(id)).revision).toBe(0);
  });

  test('is refused by the API as well', async () => {
    const response = await paper.agent
      .post('/api/runs')
      .set('origin', 'https://elsewhere.example')
      .send({ instrument: 'alto-saxophone', person: 'desk' });
    expect(response.body).toMatchObject({ status: 403, type: '/problems/cross-site' });
  });
});

describe('a write of our own', () => {
  test.each([
    {},
    { 'sec-fetch-site': 'same-origin' },
    { 'sec-fetch-site': 'none' },
    { origin: 'https://band.example.org' },
    { origin: 'http://192.168.1.7:3000', host: '192.168.1.7:3000' },
  ])('is let through: %o', async (headers) => {
    expect((await post(headers)).status).toBe(409);
  });
});

test('reading is free to everybody, since it changes nothing', async () => {
  const response = await paper.agent.get(`/r/${id}`).set('sec-fetch-site', 'cross-site');
  expect(response.status).toBe(200);
});
