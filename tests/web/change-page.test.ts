import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { type PaperApp, readHidden, startPaperApp } from './support/paper-app.ts';

let paper: PaperApp;
let id: string;

beforeAll(async () => {
  paper = await startPaperApp();
});

afterAll(() => paper.app.close());

beforeEach(async () => {
  id = await paper.openRun();
  await paper.play(id, 'yes', 'tight', { type: 'note', fingering: 'fg.D4', answered: 'silent' });
});

const show = async (entry: number) => (await paper.agent.get(`/r/${id}/change/${entry}`)).text;
const change = (fields: Record<string, string>) =>
  paper.agent.post(`/r/${id}/changes`).type('form').send(fields);

describe('the page on which an answer is changed', () => {
  test('shows what was asked, what was said, and the answers', async () => {
    const text = await show(2);
    expect(text).toContain('<h1>Does the neck turn too easily?</h1>');
    expect(text).toContain('You said: <b>It stays put</b>');
    expect(text).toMatch(/name="choice" value="loose"/);
    expect(text).toContain(`<a class="answer quiet" href="/r/${id}">Leave it as it is</a>`);
  });

  test('shows a note with its answers, and not the end of the play test', async () => {
    const text = await show(3);
    expect(text).toMatch(/name="note" value="fg\.D4 speaks" aria-pressed="false"/);
    expect(text).toMatch(/name="note" value="fg\.D4 silent" aria-pressed="true"/);
    expect(text).not.toContain('name="choice"');
  });

  test('of an answer that was never given says so', async () => {
    const { status, text } = await paper.agent.get(`/r/${id}/change/77`);
    expect(status).toBe(422);
    expect(text).toContain('That is not one of the answers');
  });
});

describe('a change', () => {
  test('replaces the answer and comes back to the step of now', async () => {
    const { status, headers } = await change({ ...readHidden(await show(2), /changes/), choice: 'loose' });
    expect([status, headers.location]).toEqual([303, `/r/${id}`]);
    const { conversation } = await paper.runs.view(id);
    expect(conversation.map(({ answered }) => answered)).toEqual(['Yes', 'It turns by itself', 'silent']);
  });

  test('of a note replaces that note', async () => {
    await change({ ...readHidden(await show(3), /changes/), note: 'fg.D4 speaks' });
    expect((await paper.runs.view(id)).step.notes[0]).toMatchObject({ answered: 'speaks' });
  });

  test('sent twice counts once', async () => {
    const fields = { ...readHidden(await show(2), /changes/), choice: 'loose' };
    await change(fields);
    expect((await change(fields)).status).toBe(303);
    expect((await paper.runs.view(id)).revision).toBe(4);
  });

  test('from an old page changes nothing and says so', async () => {
    const fields = readHidden(await show(2), /changes/);
    await paper.play(id, 'done');
    const { status, text } = await change({ ...fields, choice: 'loose' });
    expect(status).toBe(409);
    expect(text).toContain('which asked: “Does the neck turn too easily?”');
    expect((await paper.runs.view(id)).conversation[1]?.answered).toBe('It stays put');
  });
});
