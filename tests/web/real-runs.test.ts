import { gunzipSync } from 'node:zlib';
import type { FastifyInstance } from 'fastify';
import supertest from 'supertest';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { buildApp } from '../../src/app.ts';
import { readConfig } from '../../src/config.ts';
import { createLibrary } from '../../src/library/create-library.ts';
import { makePatient } from '../support/patient.ts';
import { openRunsBench, type RunsBench } from '../support/runs-bench.ts';
import { readHidden } from './support/paper-app.ts';

let bench: RunsBench;
let app: FastifyInstance;
let agent: ReturnType<typeof supertest>;

beforeAll(async () => {
  bench = await openRunsBench();
  app = buildApp({
    config: readConfig({ LOG_LEVEL: 'silent' }),
    runs: bench.runs,
    library: createLibrary(bench.content),
  });
  await app.ready();
  agent = supertest(app.server);
});

afterAll(async () => {
  await app.close();
  await bench.dispose();
});

const fault = 'slack@link.fsharp-holds-gsharp';

/** Opens a run by the start page. */
async function start(): Promise<string> {
  const { text } = await agent.get('/');
  const opened = await agent
    .post('/runs')
    .type('form')
    .send({
      ...readHidden(text, /runs/),
      instrument: 'alto-saxophone',
      person: 'director',
      complaint: 'low notes',
    });
  return (opened.headers.location ?? '').replace('/r/', '');
}

/** Answers the step of now by the form on its page, as somebody with the faulty instrument in hand would. */
async function answerByForm(id: string): Promise<void> {
  const { step } = await bench.runs.view(id);
  const { text } = await agent.get(`/r/${id}`);
  const fields = readHidden(text, /answers/);
  const patient = makePatient(bench.model, fault);
  const post = (more: object) =>
    agent
      .post(`/r/${id}/answers`)
      .type('form')
      .send({ ...fields, ...more });
  const waiting = step.notes.find(({ group, answered }) => group === 'first' && answered === null);
  if (waiting !== undefined) {
    const { answered, sounded } = patient.playNote(waiting.fingering);
    const heard = sounded === undefined ? {} : { [`sounded ${waiting.fingering}`]: sounded };
    await post({ note: `${waiting.fingering} ${answered}`, ...heard });
  } else {
    const check = step.id.split('/')[1];
    await post({ choice: check === undefined ? step.choices[0]?.id : patient.answerCheck(check) });
  }
}

/** Goes on until the step is of a kind. */
async function goTo(id: string, kind: 'notes' | 'outcome'): Promise<void> {
  for (let steps = 0; (await bench.runs.view(id)).step.kind !== kind; steps += 1) {
    if (steps > 120) throw new Error('The run does not end.');
    await answerByForm(id);
  }
}

describe('the pages over the real runs', () => {
  test('lead from the start page to an outcome by their forms alone', async () => {
    const id = await start();
    await goTo(id, 'outcome');
    const { outcome } = (await bench.runs.view(id)).step;
    const { status, text } = await agent.get(`/r/${id}`);
    expect(status).toBe(200);
    expect(outcome).not.toBeNull();
    expect(text).toContain(`<h1>${outcome?.title}</h1>`);
    const change = await agent.get(`/r/${id}/change/1`);
    expect(change.text).toContain('You said:');
    if (outcome?.ticket) expect((await agent.get(`/r/${id}/ticket`)).text).toContain(outcome.ticket.number);
  });

  test('send the play test, the longest page, with less than 60 kB', async () => {
    const id = await start();
    await goTo(id, 'notes');
    const { rawPayload } = await app.inject({ url: `/r/${id}`, headers: { 'accept-encoding': 'gzip' } });
    const text = gunzipSync(rawPayload).toString();
    expect(text.match(/<section class="note/g)?.length).toBeGreaterThan(20);
    expect(text.match(/<svg class="staff"/g)?.length).toBe(text.match(/<section class="note/g)?.length);
    expect(rawPayload.length).toBeLessThan(60_000);
  });

  test('offer the notes that may have come out, an octave higher first', async () => {
    const id = await start();
    await goTo(id, 'notes');
    const { step } = await bench.runs.view(id);
    const row = step.notes.find(({ note }) => note === 'D4');
    const { text } = await agent.get(`/r/${id}`);
    const fields = readHidden(text, /answers/);
    await agent
      .post(`/r/${id}/answers`)
      .type('form')
      .send({ ...fields, note: `${row?.fingering} wrong` });
    const options = [...(await agent.get(`/r/${id}`)).text.matchAll(/<option value="([^"]*)"/g)].map(
      ([, note]) => note,
    );
    expect(options.slice(0, 2)).toEqual(['', 'D5']);
    expect(options).toContain('C#4');
    expect(options).not.toContain('D4');
  });
});

describe('a complaint on the start page', () => {
  const words = 'low C is silent <b>&</b> it was dropped';

  async function open(person: string): Promise<string> {
    const { text } = await agent.get('/');
    const fields = { ...readHidden(text, /runs/), instrument: 'alto-saxophone', person, complaint: words };
    const opened = await agent.post('/runs').type('form').send(fields);
    return opened.headers.location ?? '';
  }

  test('is quoted as it was written, and what it means stands beside empty boxes', async () => {
    const { text } = await agent.get(await open('director'));
    expect(text).toContain('You wrote: <q>low C is silent &lt;b&gt;&amp;&lt;/b&gt; it was dropped</q>');
    expect(text).toContain('Low C does not speak.');
    expect(text).toContain('It was dropped or knocked, or has a fresh dent.');
    expect(text).not.toContain('checked');
    expect((await agent.get(await open('desk'))).text).toContain('The caller said: <q>');
  });

  test('counts by the boxes that were ticked, without a line of script, and can be changed', async () => {
    const address = await open('director');
    const id = address.replace('/r/', '');
    const fields = readHidden((await agent.get(address)).text, /answers/);
    const send = { ...fields, ticked: 'proposal-2', choice: 'done' };
    await agent.post(`${address}/answers`).type('form').send(send).expect(303);
    const run = await bench.runs.view(id);
    expect(run.step.id).toBe('owner');
    expect(run.conversation[0]?.answered).toBe('It was dropped or knocked, or has a fresh dent');
    const change = await agent.get(`${address}/change/1`);
    expect(change.text.match(/name="ticked" value="([^"]*)" checked/)?.[1]).toBe('proposal-2');
  });
});

describe('the API over the real library', () => {
  const diagnose = (findings: object[]) =>
    agent.post('/api/diagnoses').send({ instrument: 'alto-saxophone', findings });
  const lowNotesFail = [
    { note: 'D4', answered: 'speaks' },
    { note: 'C4', answered: 'speaks' },
    { note: 'C#4', answered: 'silent' },
    { note: 'B3', answered: 'silent' },
    { note: 'Bb3', answered: 'silent' },
  ];

  test('reads a complaint into findings that can be sent once they are confirmed', async () => {
    const complaint = 'nothing comes out below D, gizmo';
    const read = await agent
      .post('/api/diagnoses')
      .send({ instrument: 'alto-saxophone', findings: [], complaint });
    const unread = await diagnose([]);
    expect(read.body.suspects).toEqual(unread.body.suspects);
    expect(read.body.notUnderstood).toEqual(['gizmo']);
    const [first] = read.body.proposals;
    expect(first).toMatchObject({
      says: 'Nothing from low B flat up to low C sharp speaks.',
      isLikely: true,
    });
    const confirmed = await diagnose(first.findings);
    expect(confirmed.status).toBe(200);
    expect(confirmed.body.suspects).not.toEqual(unread.body.suspects);
  });

  test('takes a complaint as long as its form does, and refuses a longer one with what to do, keeping it in the form', async () => {
    const told = 'x'.repeat(5000);
    const form = { instrument: 'alto-saxophone', person: 'director' };
    const refused = await agent
      .post('/runs')
      .type('form')
      .send({ ...form, complaint: told, key: 'complaint-too-long' });
    const [, longest] = /Say it in at most (\d+) characters/.exec(refused.text) ?? [];
    expect(refused.text).toContain(told);
    const post = (complaint: string) =>
      agent.post('/api/diagnoses').send({ instrument: 'alto-saxophone', findings: [], complaint });
    expect((await post('x'.repeat(Number(longest)))).status).toBe(200);
    // A browser counts the end of a line as one character and sends it as two.
    const lines = 'low C\r\n'.repeat(Number(longest) / 'low C\n'.length);
    const opened = await agent
      .post('/runs')
      .type('form')
      .send({
        ...form,
        complaint: lines,
        key: 'complaint-of-lines',
      });
    expect(opened.status).toBe(303);
    const complaint = 'x'.repeat(Number(longest) + 1);
    const { status, body } = await agent
      .post('/api/diagnoses')
      .send({ instrument: 'alto-saxophone', findings: [], complaint });
    expect(status).toBe(400);
    expect(JSON.stringify(body)).toContain(`Say it in at most ${longest} characters.`);
  });

  test('says which words of a complaint were not understood, and that they are kept', async () => {
    const shown = async (complaint: string, person: string) => {
      const { body } = await agent
        .post('/api/runs')
        .set('idempotency-key', `words ${complaint} ${person}`.slice(0, 90))
        .send({ instrument: 'trombone', person, complaint });
      return (await agent.get(`/r/${body.id}`)).text.replaceAll(/\s+/g, ' ');
    };
    const some = await shown('low F is silent, the <gizmo> frobnicates', 'director');
    expect(some).toContain('<span class="missed">frobnicates</span>');
    expect(some).toContain(
      'I did not understand: “frobnicates”. Your own words stay as they are, and go on the ticket.',
    );
    const none = await shown('it frobnicates', 'desk');
    expect(none).toContain(
      'I could not tell from the caller’s words where to look, so I ask one thing at a time.',
    );
    expect(none).toContain('The caller’s own words stay as they are, and go on the ticket.');
    expect(await shown('low F is silent', 'director')).not.toContain('class="reading');
  });

  test('takes the confirmed part of a complaint as an answer of its run', async () => {
    const { body } = await agent
      .post('/api/runs')
      .set('idempotency-key', 'complaint-of-a-run')
      .send({ instrument: 'alto-saxophone', person: 'desk', complaint: 'low C is silent' });
    expect(body.step.proposals).toEqual([
      { id: 'proposal-1', says: 'Low C does not speak.', isLikely: true, isTicked: false },
    ]);
    const answer = { type: 'proposals', ticked: ['proposal-1'] };
    const answered = await agent
      .post(`/api/runs/${body.id}/answers`)
      .send({ revision: body.revision, key: 'confirmed-1', answer });
    expect(answered.status).toBe(200);
    expect((await bench.runs.view(body.id)).conversation[0]?.answered).toBe('Low C does not speak');
  });

  test('finds the screw by the notes, and its suspects sum with the rest to 1', async () => {
    const { body } = await diagnose(lowNotesFail);
    expect(body.suspects[0].fault).toBe(fault);
    const shares: number[] = body.suspects.map(({ probability }: { probability: number }) => probability);
    expect(shares).toEqual(shares.toSorted((one, other) => other - one));
    expect(shares.reduce((sum, share) => sum + share, body.rest)).toBeCloseTo(1, 6);
  });

  test('understands enharmonic spellings', async () => {
    const spelt = lowNotesFail.map((finding) => ({
      ...finding,
      note: { 'C#4': 'Db4', Bb3: 'A#3' }[finding.note] ?? finding.note,
    }));
    expect((await diagnose(spelt)).body).toEqual((await diagnose(lowNotesFail)).body);
  });

  test.each([
    [{ note: 'H4', answered: 'silent' }, 'unknown-note', '/findings/0/note'],
    [{ check: 'tap@nothing', saw: 'stirs' }, 'unknown-check', '/findings/0/check'],
    [{ check: 'tap@link.fsharp-holds-gsharp', saw: 'sings' }, 'unknown-answer', '/findings/0/saw'],
  ])('refuses %o as %s and lists what is known', async (finding, code, pointer) => {
    const { status, body } = await diagnose([finding]);
    expect(status).toBe(422);
    expect(body).toMatchObject({ type: `/problems/${code}`, errors: [{ pointer }] });
    expect(body.known.length).toBeGreaterThan(1);
  });

  test('takes every check that it names with every answer that it names', async () => {
    const { body } = await agent.get('/api/instruments/alto-saxophone');
    const findings = body.checks
      .slice(0, 40)
      .map(({ id, answers }: { id: string; answers: { id: string }[] }) => ({
        check: id,
        saw: answers[0]?.id,
      }));
    expect((await diagnose(findings)).status).toBe(200);
  });
});
