import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { type PaperApp, readHidden, startPaperApp } from './support/paper-app.ts';
import { readRow } from './support/read-html.ts';

let paper: PaperApp;
let id: string;

beforeAll(async () => {
  paper = await startPaperApp();
});

afterAll(() => paper.app.close());

beforeEach(async () => {
  id = await paper.openRun();
  await paper.play(id, 'yes', 'tight');
});

const show = async () => (await paper.agent.get(`/r/${id}`)).text;
const tap = async (note: string, more: Record<string, string> = {}) =>
  paper.agent
    .post(`/r/${id}/answers`)
    .type('form')
    .send({ ...readHidden(await show(), /answers/), note, ...more });
const play = (fingering: string, answered: 'speaks' | 'wrong' | 'silent') =>
  paper.play(id, { type: 'note', fingering, answered });

describe('the play test', () => {
  test('has a row for each note: its name, its fingering in a picture and in words, and five answers', async () => {
    const row = readRow(await show(), 'note-fg-Cs4');
    expect(row).toContain('low C sharp');
    expect(row).toContain('<svg');
    expect(row).toContain('Left hand: three fingers.');
    const answers = [...row.matchAll(/name="note" value="fg\.Cs4 ([a-z-]+)"/g)].map(([, answer]) => answer);
    expect(answers).toEqual(['speaks', 'unsteady', 'wrong', 'silent', 'could-not-tell']);
  });

  test('parts the notes to play first from those that may be left out', async () => {
    const [first = '', further = ''] = (await show()).split('<details class="note-group further">');
    expect(first).toContain('id="note-fg-D4"');
    expect(first).not.toContain('id="note-fg-E4"');
    expect(further).toContain('id="note-fg-E4"');
  });

  test('opens the further notes once one of them is answered', async () => {
    await play('fg.E4', 'speaks');
    expect(await show()).toContain('<details class="note-group further" open>');
  });

  test('can always be ended, and says when that is enough', async () => {
    expect((await show()).match(/name="choice" value="done"/g)).toHaveLength(1);
    for (const fingering of ['fg.D4', 'fg.Cs4', 'test.D4+gsharp']) await play(fingering, 'speaks');
    const text = await show();
    expect(text).toContain('That is enough to go on with.');
    expect(text.match(/name="choice" value="done"/g)).toHaveLength(2);
    expect(text).toContain('3 of 3 played');
  });

  test('says so where there is no note to play, and counts nothing', async () => {
    const { body: view } = await paper.agent.get(`/api/runs/${id}`);
    const step = { ...view.step, notes: [] };
    const other = await startPaperApp({ runs: { view: async () => ({ ...view, step }) } });
    const { text } = await other.agent.get(`/r/${id}`);
    await other.app.close();
    expect(text).toContain('role="status">No note to play here</p>');
    expect(text).not.toMatch(/0 of 0/);
  });

  test('shows each note on its staff, and tells how it sounds, to hear and in words', async () => {
    const row = readRow(await show(), 'note-fg-Cs4');
    expect(row).toContain('low C sharp on a staff');
    // Written C#4 sounds as E3 on an alto: 164.81 Hz at A4 = 440 Hz.
    expect(row).toMatch(/<button class="tool tone" type="button" data-frequency="164\.81">/);
    expect(row).toContain('It sounds as E3 does on a piano: 164.8 Hz when A is tuned to 440 Hz.');
  });

  test('loads three small scripts, and is whole without them', async () => {
    const text = await show();
    expect(text.match(/<script[^>]*>/g)).toEqual([
      expect.stringMatching(/^<script type="module" src="\/assets\/[\w-]+\/notes\.js">$/),
      expect.stringMatching(/^<script type="module" src="\/assets\/[\w-]+\/tone\.js">$/),
      expect.stringMatching(/^<script type="module" src="\/assets\/[\w-]+\/listen\.js">$/),
    ]);
    expect((await tap('fg.D4 speaks')).status).toBe(303);
  });
});

describe('one tap', () => {
  test('keeps the answer and comes back to the next note that waits', async () => {
    const { status, headers } = await tap('fg.D4 speaks');
    expect([status, headers.location]).toEqual([303, `/r/${id}#note-fg-Cs4`]);
    const row = readRow(await show(), 'note-fg-D4');
    expect(row).toContain('<p class="note-answer unseen">Speaks</p>');
    expect(row).toMatch(/value="fg\.D4 speaks" aria-pressed="true"/);
    expect(row.match(/aria-pressed="true"/g)).toHaveLength(1);
  });

  test('on the last of the first notes comes back to the one that was left out, then to the end of the group', async () => {
    await tap('fg.Cs4 silent');
    expect((await tap('test.D4+gsharp speaks')).headers.location).toBe(`/r/${id}#note-fg-D4`);
    expect((await tap('fg.D4 speaks')).headers.location).toBe(`/r/${id}#enough`);
    expect((await tap('fg.E4 speaks')).headers.location).toBe(`/r/${id}#done`);
  });

  test('on a note that was answered changes the answer and stays there', async () => {
    await tap('fg.D4 speaks');
    expect((await tap('fg.D4 silent')).headers.location).toBe(`/r/${id}#note-fg-D4`);
    expect(readRow(await show(), 'note-fg-D4')).toContain('<p class="note-answer unseen">Silent</p>');
  });

  test('twice on the same button counts once', async () => {
    const fields = { ...readHidden(await show(), /answers/), note: 'fg.D4 speaks' };
    const send = () => paper.agent.post(`/r/${id}/answers`).type('form').send(fields);
    const [one, other] = [await send(), await send()];
    expect(other.headers.location).toBe(one.headers.location);
    expect((await paper.runs.view(id)).revision).toBe(3);
  });

  test('on a note that is not asked for changes nothing', async () => {
    const { status, text } = await tap('fg.Zz9 speaks');
    expect(status).toBe(422);
    expect(text).toContain('That answer does not belong to this step');
  });

  test('never leads anywhere but to the run, whatever the form says', async () => {
    const { headers } = await tap('fg.D4 speaks', { order: 'fg.D4 //elsewhere.example/"<' });
    expect(headers.location).toBe(`/r/${id}#note--elsewhere-example-`);
  });
});

describe('a wrong note', () => {
  test('stays at its row, which then asks for the note that came out', async () => {
    expect((await tap('fg.D4 wrong')).headers.location).toBe(`/r/${id}#note-fg-D4`);
    const row = readRow(await show(), 'note-fg-D4');
    expect(row).toContain('Which note came out?');
    expect(row).toContain('<option value="">I don’t know</option>');
    expect(row).toContain('<option value="D5">an octave higher</option>');
    expect(readRow(await show(), 'note-fg-Cs4')).not.toContain('Which note came out?');
  });

  test('keeps the note that came out', async () => {
    await tap('fg.D4 wrong');
    const { headers } = await tap('fg.D4 wrong heard', { 'sounded fg.D4': 'D5' });
    expect(headers.location).toBe(`/r/${id}#note-fg-Cs4`);
    const { step } = await paper.runs.view(id);
    expect(step.notes[0]).toMatchObject({ answered: 'wrong', sounded: 'D5' });
    expect(readRow(await show(), 'note-fg-D4')).toContain('<option value="D5" selected>');
  });

  test('keeps the note that came out where it is none of those offered', async () => {
    await tap('fg.D4 wrong heard', { 'sounded fg.D4': 'G#5' });
    expect(readRow(await show(), 'note-fg-D4')).toContain('<option value="G#5" selected>');
  });

  test('forgets it when the note is answered otherwise', async () => {
    await tap('fg.D4 wrong heard', { 'sounded fg.D4': 'D5' });
    await tap('fg.D4 speaks', { 'sounded fg.D4': 'D5' });
    expect((await paper.runs.view(id)).step.notes[0]).toMatchObject({ answered: 'speaks', sounded: null });
  });
});
