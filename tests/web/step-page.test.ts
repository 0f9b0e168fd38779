import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type PaperApp, readHidden, startPaperApp } from './support/paper-app.ts';

let paper: PaperApp;

beforeAll(async () => {
  paper = await startPaperApp();
});

afterAll(() => paper.app.close());

const show = async (id: string) => (await paper.agent.get(`/r/${id}`)).text;
const answer = async (id: string, fields: Record<string, string | number>) =>
  paper.agent.post(`/r/${id}/answers`).type('form').send(fields);

describe('a step', () => {
  test('says what to do, why, what to take care of, and shows its picture with its words', async () => {
    const id = await paper.openRun();
    await paper.play(id, 'yes');
    const text = await show(id);
    expect(text).toContain('<h1>Does the neck turn too easily?</h1>');
    expect(text).toContain(
      '<p class="ask">Tighten the neck screw with two fingers and try to turn the neck.</p>',
    );
    expect(text).toContain('Air that leaves there is missed by every low note.');
    expect(text).toMatch(/aria-label="Take care"[\s\S]*Two fingers only: the screw breaks\./);
    expect(text).toContain('<svg');
    expect(text).toMatch(
      /The picture in words<\/summary><p>The neck, seen from the side; the screw is marked\.<\/p>/,
    );
    expect(text).toContain('<title>Does the neck turn too easily? · Alto saxophone · Quarter Turn</title>');
  });

  test('parts its paragraphs', async () => {
    const text = await show(await paper.openRun());
    expect(text.match(/<p class="ask">/g)).toHaveLength(2);
  });

  test('has a button for each answer, with the ways out set apart', async () => {
    const id = await paper.openRun();
    await paper.play(id, 'yes');
    const text = await show(id);
    expect(text).toContain(
      '<button class="answer" type="submit" name="choice" value="tight">It stays put</button>',
    );
    expect(text).toMatch(/class="ways-out">\s*<button class="answer quiet"[^>]*value="could-not-tell"/);
  });

  test('says how far it is, and how to come back', async () => {
    const id = await paper.openRun();
    const text = await show(id);
    expect(text).toContain('About 4 more checks');
    expect(text).toContain('Ruled out so far: 3 of 40 parts.');
    expect(text).toMatch(new RegExp(`127\\.0\\.0\\.1:\\d+/r/${id}`));
  });

  test('needs no script', async () => {
    expect(await show(await paper.openRun())).not.toContain('<script');
  });

  test('shows a complaint nowhere as markup', async () => {
    const id = await paper.openRun('<img src=x onerror=alert(1)>');
    expect(await show(id)).not.toContain('<img src=x');
  });
});

describe('an answer', () => {
  test('leads to the next step by 303', async () => {
    const id = await paper.openRun();
    const { status, headers } = await answer(id, { ...readHidden(await show(id), /answers/), choice: 'yes' });
    expect([status, headers.location]).toEqual([303, `/r/${id}`]);
    expect((await paper.runs.view(id)).step.id).toBe('neck');
  });

  test('sent twice counts once and leads to the same place', async () => {
    const id = await paper.openRun();
    const fields = { ...readHidden(await show(id), /answers/), choice: 'yes' };
    const [one, other] = [await answer(id, fields), await answer(id, fields)];
    expect([other.status, other.headers.location]).toEqual([one.status, one.headers.location]);
    expect((await paper.runs.view(id)).revision).toBe(1);
  });

  test('from an old page is not counted: the page says what it asked, what was answered, and what is asked now', async () => {
    const id = await paper.openRun();
    const fields = readHidden(await show(id), /answers/);
    await paper.play(id, 'yes');
    const { status, text } = await answer(id, { ...fields, choice: 'not-here' });
    expect(status).toBe(409);
    expect(text).toContain('This run has moved on');
    expect(text).toContain('which asked: “Is the instrument put together?”');
    expect(text).toContain('That has been answered already: “Yes”.');
    expect(text).toContain('nothing was changed');
    expect(text).toContain('<h1>Does the neck turn too easily?</h1>');
    expect((await paper.runs.view(id)).revision).toBe(1);
  });

  test('can be given from the page that says so', async () => {
    const id = await paper.openRun();
    const fields = readHidden(await show(id), /answers/);
    await paper.play(id, 'yes');
    const { text } = await answer(id, { ...fields, choice: 'yes' });
    const { status } = await answer(id, { ...readHidden(text, /answers/), choice: 'tight' });
    expect(status).toBe(303);
    expect((await paper.runs.view(id)).step.id).toBe('play');
  });

  test('by another button of the same page is late, not a repeat', async () => {
    const id = await paper.openRun();
    await paper.play(id, 'yes');
    const fields = readHidden(await show(id), /answers/);
    await answer(id, { ...fields, choice: 'tight' });
    const { status, text } = await answer(id, { ...fields, choice: 'loose' });
    expect(status).toBe(409);
    expect(text).toContain('That has been answered already: “It stays put”.');
  });

  test('that the step does not take changes nothing and shows the step again', async () => {
    const id = await paper.openRun();
    const { status, text } = await answer(id, {
      ...readHidden(await show(id), /answers/),
      choice: 'perhaps',
    });
    expect(status).toBe(422);
    expect(text).toContain('That answer does not belong to this step');
    expect(text).toContain('<h1>Is the instrument put together?</h1>');
  });

  test('shows what a foreign form claims to have been asked as text', async () => {
    const id = await paper.openRun();
    await paper.play(id, 'yes');
    const { text } = await answer(id, {
      revision: 0,
      key: 'foreign-key',
      asked: '<script>alert(1)</script>',
      choice: 'yes',
    });
    expect(text).toContain('&lt;script&gt;');
    expect(text).not.toContain('<script>');
  });

  test.each([
    { key: 'incomplete-key', choice: 'yes' },
    { revision: '1e3', key: 'incomplete-key', choice: 'yes' },
    { revision: '0', choice: 'yes' },
    { revision: '0', key: 'incomplete-key' },
    { revision: '0', key: 'incomplete-key', note: 'fg.D4' },
    { revision: '0', key: '../../../etc/passwd', choice: 'yes' },
  ])('that is not whole is refused with a way back: %o', async (fields) => {
    const id = await paper.openRun();
    const { status, text } = await answer(id, fields);
    expect(status).toBe(400);
    expect(text).toContain(`href="/r/${id}"`);
    expect((await paper.runs.view(id)).revision).toBe(0);
  });
});

describe('the conversation so far', () => {
  test('shows the last answer, and folds the earlier ones with a way to change each', async () => {
    const id = await paper.openRun();
    await paper.play(id, 'yes', 'tight');
    const text = await show(id);
    const folded = /<details class="earlier">[\s\S]*<\/details>/.exec(text)?.[0] ?? '';
    expect(folded).toContain('1 earlier answer</summary>');
    expect(folded).toContain('Is the instrument put together?');
    expect(folded).toContain(`href="/r/${id}/change/1"`);
    expect(text.replace(folded, '')).toContain('It stays put');
  });

  test('offers nothing to take back at the first step', async () => {
    expect(await show(await paper.openRun())).not.toContain('Take this back');
  });

  test('takes the last answer back', async () => {
    const id = await paper.openRun();
    await paper.play(id, 'yes');
    const undo = () => paper.agent.post(`/r/${id}/undo`).type('form').send(fields);
    const fields = readHidden(await show(id), /undo/);
    const { status, headers } = await undo();
    expect([status, headers.location]).toEqual([303, `/r/${id}`]);
    expect((await undo()).status).toBe(303);
    expect((await paper.runs.view(id)).step.id).toBe('ready');
  });

  test('says so when there is nothing to take back, or when the page is old', async () => {
    const id = await paper.openRun();
    const none = await paper.agent.post(`/r/${id}/undo`).type('form').send('revision=0&key=nothing-yet');
    expect([none.status, none.text]).toEqual([409, expect.stringContaining('There is nothing to take back')]);
    await paper.play(id, 'yes', 'tight');
    const late = await paper.agent.post(`/r/${id}/undo`).type('form').send('revision=1&key=late-undo');
    expect([late.status, late.text]).toEqual([409, expect.stringContaining('This run has moved on')]);
    expect((await paper.runs.view(id)).revision).toBe(2);
  });
});

test('a run that is not known gets a page that helps', async () => {
  const { status, text } = await paper.agent.get('/r/nobody');
  expect(status).toBe(404);
  expect(text).toContain('There is no such run here');
  expect(text).toContain('name="code"');
});
