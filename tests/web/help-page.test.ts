import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type PaperApp, readHidden, startPaperApp } from './support/paper-app.ts';

let paper: PaperApp;
beforeAll(async () => {
  paper = await startPaperApp();
});
afterAll(() => paper.app.close());

const atNeck = async () => {
  const id = await paper.openRun();
  await paper.play(id, 'yes');
  return id;
};

describe('“I don’t understand”', () => {
  test('is a link on the step, to a page that says it plainly, with the picture in words and the words of the trade', async () => {
    const id = await atNeck();
    expect((await paper.agent.get(`/r/${id}`)).text).toContain(`href="/r/${id}/help">I don’t understand</a>`);
    const { text } = await paper.agent.get(`/r/${id}/help`);
    expect(text).toContain(
      '<p class="ask">Hold the body, and try gently to turn the curved piece at the top.</p>',
    );
    expect(text).toContain('The neck, seen from the side; the screw is marked.</p>');
    expect(text).toContain('<dt>neck</dt><dd>The curved piece at the top.</dd>');
    expect(text).toContain('Two fingers only: the screw breaks.');
  });

  test('loses nothing and leads back to the same step', async () => {
    const id = await atNeck();
    const { text } = await paper.agent.get(`/r/${id}/help`);
    expect(text).toContain(`<a class="answer go" href="/r/${id}">Back to the step</a>`);
    expect((await paper.runs.view(id)).revision).toBe(1);
  });

  test('offers another check instead of this one, which counts as "could not tell"', async () => {
    const id = await atNeck();
    const { text } = await paper.agent.get(`/r/${id}/help`);
    expect(text).toContain('value="could-not-tell">Ask me something else instead</button>');
    const { status, headers } = await paper.agent
      .post(`/r/${id}/answers`)
      .type('form')
      .send({ ...readHidden(text, /answers/), choice: 'could-not-tell' });
    expect([status, headers.location]).toEqual([303, `/r/${id}`]);
    expect((await paper.runs.view(id)).step.id).toBe('play');
  });

  test('says the step as it is where an older edition has no plainer words', async () => {
    const id = await paper.openRun();
    const { text } = await paper.agent.get(`/r/${id}/help`);
    expect(text.match(/<p class="ask">/g)).toHaveLength(2);
    expect(text).not.toContain('Words on this step');
  });

  test('leads to the outcome of a run that has ended', async () => {
    const id = await paper.openRun();
    await paper.play(id, 'not-here');
    const { status, headers } = await paper.agent.get(`/r/${id}/help`);
    expect([status, headers.location]).toEqual([303, `/r/${id}`]);
  });
});

describe('a caution', () => {
  test('that the run has shown before is a line that unfolds', async () => {
    const id = await atNeck();
    await paper.play(id, 'tight', 'done');
    const { text } = await paper.agent.get(`/r/${id}`);
    expect(text).toMatch(/aria-label="Take care"[\s\S]*Stop when it needs force\./);
    expect(text).toMatch(
      /<details class="cautions reminders">\s*<summary><span><b class="cautions-title">Take care:<\/b> two fingers only<\/span><\/summary>\s*<p>Two fingers only: the screw breaks\.<\/p>/,
    );
  });
});
