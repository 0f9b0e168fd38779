import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type PaperApp, startPaperApp } from './support/paper-app.ts';

let paper: PaperApp;

beforeAll(async () => {
  paper = await startPaperApp();
});

afterAll(() => paper.app.close());

const opening = {
  instrument: 'alto-saxophone',
  person: 'director',
  tools: ['screwdriver'],
  complaint: 'low notes',
};
const choose = (choice: string) => ({ type: 'choice', choice });
const answer = (id: string, body: object, headers: Record<string, string> = {}) =>
  paper.agent.post(`/api/runs/${id}/answers`).set(headers).send(body);

describe('opening a run', () => {
  test('gives its first step and says where it is', async () => {
    const { status, body, headers } = await paper.agent.post('/api/runs').send(opening);
    expect(status).toBe(201);
    expect(headers.location).toBe(`/api/runs/${body.id}`);
    expect(body).toMatchObject({
      revision: 0,
      complaint: 'low notes',
      step: { id: 'ready', kind: 'question' },
    });
    expect((await paper.agent.get(headers.location ?? '')).body).toEqual(body);
  });

  test('under the same key gives the same run', async () => {
    const open = () => paper.agent.post('/api/runs').set('idempotency-key', '"opening-key"').send(opening);
    const [one, other] = [await open(), await open()];
    expect(other.body.id).toBe(one.body.id);
    expect(other.status).toBe(201);
  });

  test('without a key opens another one each time', async () => {
    const [one, other] = [
      await paper.agent.post('/api/runs').send(opening),
      await paper.agent.post('/api/runs').send(opening),
    ];
    expect(other.body.id).not.toBe(one.body.id);
  });

  test('refuses an instrument that is not known, and lists those that are', async () => {
    const { body } = await paper.agent.post('/api/runs').send({ ...opening, instrument: 'kazoo' });
    expect(body).toMatchObject({ known: ['alto-saxophone'], errors: [{ pointer: '/instrument' }] });
  });
});

describe('answering', () => {
  test('gives the run as it stands afterwards', async () => {
    const id = await paper.openRun();
    const { status, body } = await answer(id, { revision: 0, key: 'first-answer', answer: choose('yes') });
    expect(status).toBe(200);
    expect(body).toMatchObject({
      revision: 1,
      step: { id: 'neck' },
      conversation: [{ answered: 'Yes', canChange: true }],
    });
  });

  test('counts once when it is sent again under its key, in the header or in the body', async () => {
    const id = await paper.openRun();
    const body = { revision: 0, answer: choose('yes') };
    const first = await answer(id, body, { 'idempotency-key': 'once-only-key' });
    const second = await answer(id, { ...body, key: 'once-only-key' });
    expect(second.status).toBe(200);
    expect(second.body).toEqual(first.body);
  });

  test('is refused when the key came with another answer before', async () => {
    const id = await paper.openRun();
    await answer(id, { revision: 0, key: 'reused-key', answer: choose('yes') });
    const { status, body } = await answer(id, { revision: 1, key: 'reused-key', answer: choose('tight') });
    expect(status).toBe(422);
    expect(body.type).toBe('/problems/key-reused');
  });

  test('to a step that has moved on is refused with the run as it stands', async () => {
    const id = await paper.openRun();
    await paper.play(id, 'yes');
    const { status, body } = await answer(id, { revision: 0, key: 'too-late-key', answer: choose('yes') });
    expect(status).toBe(409);
    expect(body).toMatchObject({
      type: '/problems/stale-step',
      revision: 1,
      run: { id, revision: 1, step: { id: 'neck' } },
    });
  });

  test('that the step does not take is refused with those that it takes', async () => {
    const id = await paper.openRun();
    const { status, body } = await answer(id, { revision: 0, key: 'odd-answer', answer: choose('perhaps') });
    expect(status).toBe(422);
    expect(body).toMatchObject({ known: ['yes', 'not-here'], errors: [{ pointer: '/answer/choice' }] });
  });

  test('takes notes with what came out instead', async () => {
    const id = await paper.openRun();
    await paper.play(id, 'yes', 'tight');
    const note = { type: 'note', fingering: 'fg.Cs4', answered: 'wrong', sounded: 'D4' };
    const { body } = await answer(id, { revision: 2, key: 'note-answer', answer: note });
    expect(body.step.notes).toContainEqual(
      expect.objectContaining({ note: 'C#4', answered: 'wrong', sounded: 'D4' }),
    );
  });

  test.each([
    [{ revision: 0, answer: choose('yes') }, {}, '/key'],
    [{ revision: 0, key: 'short', answer: choose('yes') }, {}, '/key'],
    [{ revision: 0, answer: choose('yes') }, { 'idempotency-key': 'short' }, '/idempotency-key'],
    [
      { revision: 0, key: 'one-good-key', answer: choose('yes') },
      { 'idempotency-key': 'another-key' },
      '/key',
    ],
    [{ revision: -1, key: 'good-enough', answer: choose('yes') }, {}, '/revision'],
    [
      { revision: 0, key: 'good-enough', answer: { type: 'note', fingering: 'fg.D4', answered: 'ok' } },
      {},
      '/answer/answered',
    ],
    [{ revision: 0, key: 'good-enough', answer: { type: 'guess' } }, {}, '/answer/type'],
    [{ revision: 0, key: 'good-enough' }, {}, '/answer'],
  ])('refuses %o %o at %s', async (body, headers, pointer) => {
    const id = await paper.openRun();
    const response = await answer(id, body, headers);
    expect(response.status).toBe(400);
    expect(response.body.errors.map((field: { pointer: string }) => field.pointer)).toEqual([pointer]);
    expect((await paper.runs.view(id)).revision).toBe(0);
  });
});

describe('taking back and changing', () => {
  test('takes the last answer back', async () => {
    const id = await paper.openRun();
    await paper.play(id, 'yes');
    const { body } = await paper.agent.post(`/api/runs/${id}/undo`).send({ revision: 1, key: 'undo-key-1' });
    expect(body).toMatchObject({ revision: 2, step: { id: 'ready' }, conversation: [] });
  });

  test('says when there is nothing to take back', async () => {
    const id = await paper.openRun();
    const { status, body } = await paper.agent
      .post(`/api/runs/${id}/undo`)
      .send({ revision: 0, key: 'undo-key-2' });
    expect(status).toBe(409);
    expect(body.type).toBe('/problems/nothing-to-undo');
  });

  test('changes an earlier answer and keeps the later ones that still fit', async () => {
    const id = await paper.openRun();
    await paper.play(id, 'yes', 'tight');
    const change = { revision: 2, entry: 2, key: 'change-key', answer: choose('loose') };
    const { body } = await paper.agent.post(`/api/runs/${id}/changes`).send(change);
    expect(body).toMatchObject({
      revision: 3,
      conversation: [{ answered: 'Yes' }, { answered: 'It turns by itself' }],
    });
  });

  test('refuses both on a step that has moved on', async () => {
    const id = await paper.openRun();
    await paper.play(id, 'yes', 'tight');
    const undo = await paper.agent.post(`/api/runs/${id}/undo`).send({ revision: 1, key: 'late-undo' });
    const change = await paper.agent
      .post(`/api/runs/${id}/changes`)
      .send({ revision: 1, entry: 1, key: 'late-change', answer: choose('yes') });
    for (const { status, body } of [undo, change]) {
      expect(status).toBe(409);
      expect(body.run.revision).toBe(2);
    }
  });
});

describe('the outcome', () => {
  test('comes when the run has ended', async () => {
    const id = await paper.openRun();
    await paper.play(id, 'not-here');
    const { status, body } = await paper.agent.get(`/api/runs/${id}/outcome`);
    expect(status).toBe(200);
    expect(body.ticket.number).toBe('T-0001');
  });

  test('is refused before', async () => {
    const { status, body } = await paper.agent.get(`/api/runs/${await paper.openRun()}/outcome`);
    expect(status).toBe(409);
    expect(body.type).toBe('/problems/run-not-ended');
  });

  test('of a run that is not known is not found', async () => {
    expect((await paper.agent.get('/api/runs/nobody/outcome')).body.type).toBe('/problems/unknown-run');
  });
});
