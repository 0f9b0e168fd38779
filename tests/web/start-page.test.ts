import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type PaperApp, readHidden, startPaperApp } from './support/paper-app.ts';
import { readText } from './support/read-html.ts';

let paper: PaperApp;

beforeAll(async () => {
  paper = await startPaperApp();
});

afterAll(() => paper.app.close());

const open = (fields: Record<string, string | string[]>) =>
  paper.agent
    .post('/runs')
    .type('form')
    .send({ key: 'start-page-key', ...fields });

describe('the start page', () => {
  test('asks for instrument, person, tools and complaint, and says in a line what each person is', async () => {
    const { text } = await paper.agent.get('/');
    for (const name of ['instrument', 'person', 'tools', 'complaint'])
      expect(text).toContain(`name="${name}"`);
    expect(text).toContain('I have the instrument in my hands.');
    expect(text).toContain('A small screwdriver');
  });

  test('has the only instrument chosen already, and nobody for the person', async () => {
    const { text } = await paper.agent.get('/');
    expect(text).toMatch(/id="instrument-alto-saxophone" value="alto-saxophone" checked/);
    expect(text).not.toMatch(/name="person"[^>]*checked/);
  });

  test('carries another key each time it is shown', async () => {
    const [one, other] = [await paper.agent.get('/'), await paper.agent.get('/')];
    expect(readHidden(one.text, /runs/).key).not.toBe(readHidden(other.text, /runs/).key);
  });
});

describe('starting', () => {
  test('opens a run and goes to its first step', async () => {
    const { status, headers } = await open({
      instrument: 'alto-saxophone',
      person: 'helper',
      tools: ['paper', 'screwdriver'],
      complaint: 'low notes',
      key: 'starting-key-1',
    });
    expect(status).toBe(303);
    const { text } = await paper.agent.get(headers.location ?? '');
    expect(text).toContain('Is the instrument put together?');
    const run = await paper.runs.view((headers.location ?? '').split('/').at(-1) ?? '');
    expect(run).toMatchObject({ person: 'helper', complaint: 'low notes' });
  });

  test('twice from one page opens one run', async () => {
    const fields = { instrument: 'alto-saxophone', person: 'desk', key: 'starting-key-2' };
    const [one, other] = [await open(fields), await open(fields)];
    expect(other.headers.location).toBe(one.headers.location);
  });

  test('without a complaint leaves it out', async () => {
    const { headers } = await open({
      instrument: 'alto-saxophone',
      person: 'desk',
      complaint: '  ',
      key: 'starting-key-3',
    });
    expect((await paper.runs.view((headers.location ?? '').split('/').at(-1) ?? '')).complaint).toBeNull();
  });
});

describe('a start that does not fit', () => {
  test('comes back with everything typed, a summary that has the focus, and a sentence at the field', async () => {
    const { status, text } = await open({
      instrument: 'alto-saxophone',
      tools: ['paper'],
      complaint: 'It <b>squeaks</b> & stops',
      key: 'kept-key-1234',
    });
    expect(status).toBe(400);
    expect(text).toMatch(/role="alert" tabindex="-1" autofocus/);
    expect(text).toContain('<a href="#person-director">Say who you are');
    expect(text).toMatch(/<p class="field-problem" id="person-problem">/);
    expect(text).toMatch(/id="tool-paper" value="paper" checked/);
    expect(text).not.toMatch(/id="tool-screwdriver" value="screwdriver" checked/);
    expect(text).toContain('It &lt;b&gt;squeaks&lt;/b&gt; &amp; stops</textarea>');
    expect(readHidden(text, /runs/).key).toBe('kept-key-1234');
    expect(text).toContain('<title>Something is missing');
  });

  test('names each field that is wrong', async () => {
    const { text } = await open({ complaint: 'x'.repeat(501), tools: 'hammer', person: 'owner' });
    for (const anchor of ['family-saxophone', 'person-director', 'tool-screwdriver', 'complaint']) {
      expect(text).toContain(`href="#${anchor}"`);
      expect(text).toContain(`id="${anchor}"`);
    }
  });

  test('with an instrument that is not known asks for one that is', async () => {
    const { status, text } = await open({ instrument: 'kazoo', person: 'desk' });
    expect(status).toBe(404);
    expect(text).toContain('Choose one of these instruments.');
  });

  test('shows any text as text, and as it was', async () => {
    await fc.assert(
      fc.asyncProperty(fc.string({ maxLength: 60, unit: 'grapheme' }), async (complaint) => {
        const { text } = await open({ complaint });
        const [, shown = ''] = /<textarea[^>]*>([\s\S]*?)<\/textarea>/.exec(text) ?? [];
        expect(shown).not.toMatch(/[<>"]/);
        expect(readText(shown)).toBe(complaint);
      }),
      { numRuns: 100 },
    );
  });
});

describe('coming back to a run', () => {
  test('works by its code, with spaces or capitals, and by its link', async () => {
    const id = await paper.openRun();
    const ways = [
      id,
      ` ${id} `,
      id.toUpperCase(),
      id.replaceAll('-', ' '),
      `http://192.168.1.7:3000/r/${id}#note-fg-D4`,
    ];
    for (const code of ways) {
      const { status, headers } = await paper.agent.get('/runs').query({ code });
      expect([status, headers.location]).toEqual([303, `/r/${id}`]);
    }
  });

  test.each([
    ['nobody', 404, 'No run has this code.'],
    ['', 400, 'Type the code of the run'],
    ['"><script>', 404, 'No run has this code.'],
  ])('with the code "%s" says what to do and keeps what was typed', async (code, status, sentence) => {
    const response = await paper.agent.get('/runs').query({ code });
    expect(response.status).toBe(status);
    expect(response.text).toContain(sentence);
    expect(response.text).toMatch(/role="alert"[\s\S]*href="#code"/);
    expect(readText(/id="code" value="([^"]*)"/.exec(response.text)?.[1] ?? '')).toBe(code);
  });

  test('with several codes at once asks for one', async () => {
    expect((await paper.agent.get('/runs?code=a&code=b')).status).toBe(400);
  });
});
