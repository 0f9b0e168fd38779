import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type PaperApp, startPaperApp } from './support/paper-app.ts';

let paper: PaperApp;

beforeAll(async () => {
  paper = await startPaperApp();
});

afterAll(() => paper.app.close());

const diagnose = (body: object) => paper.agent.post('/api/diagnoses').send(body);

describe('instruments', () => {
  test('are listed', async () => {
    const { body } = await paper.agent.get('/api/instruments');
    expect(body).toEqual({
      instruments: [
        {
          id: 'alto-saxophone',
          name: 'Alto saxophone',
          family: 'saxophone',
          familyName: 'Saxophones',
          lookFor: null,
        },
      ],
    });
  });

  test('are shown as plain data, with the checks and their answers', async () => {
    const { body } = await paper.agent.get('/api/instruments/alto-saxophone');
    expect(body).toMatchObject({
      transposition: { semitones: -9 },
      vents: [{ id: 'cup.gsharp', rest: 'closed' }],
      checks: [{ id: 'tap@link.fsharp-holds-gsharp', answers: [{ id: 'moves' }, { id: 'still' }] }],
    });
  });
});

describe('a diagnosis', () => {
  test('needs only an instrument and findings', async () => {
    const { status, body } = await diagnose({ instrument: 'alto-saxophone', findings: [] });
    expect(status).toBe(200);
    const sum = body.suspects.reduce(
      (total: number, { probability }: { probability: number }) => total + probability,
      body.rest,
    );
    expect(sum).toBeCloseTo(1, 12);
    expect(body.nextChecks[0]).toEqual({
      check: expect.any(String),
      title: expect.any(String),
      bits: 0.8,
      cost: 20,
    });
    expect(body.explanation).toBe('It is the screw.');
  });

  test('takes notes, what came out instead, checks, a complaint and a person', async () => {
    const { status } = await diagnose({
      instrument: 'alto-saxophone',
      findings: [
        { note: 'C#4', answered: 'silent' },
        { note: 'G#4', answered: 'wrong', sounded: 'G4' },
        { check: 'tap@link.fsharp-holds-gsharp', saw: 'moves' },
      ],
      complaint: 'low notes fail',
      person: 'desk',
    });
    expect(status).toBe(200);
  });

  test('passes on what is known when a note is not', async () => {
    const { status, body } = await diagnose({
      instrument: 'alto-saxophone',
      findings: [
        { note: 'C#4', answered: 'silent' },
        { note: 'Z9', answered: 'silent' },
      ],
    });
    expect(status).toBe(422);
    expect(body).toMatchObject({ known: ['C#4'], errors: [{ pointer: '/findings/1/note' }] });
  });

  test.each([
    [{ instrument: 'alto-saxophone' }, '/findings'],
    [{ instrument: 'alto-saxophone', findings: [{ note: 'C4' }] }, '/findings/0/answered'],
    [{ instrument: 'alto-saxophone', findings: [{ check: 'x' }] }, '/findings/0/saw'],
    [
      { instrument: 'alto-saxophone', findings: Array(301).fill({ note: 'C4', answered: 'silent' }) },
      '/findings',
    ],
    [{ instrument: 'alto-saxophone', findings: [], complaint: 'x'.repeat(501) }, '/complaint'],
  ])('refuses what does not fit (%#) at %s', async (request, pointer) => {
    const { status, body } = await diagnose(request);
    expect(status).toBe(400);
    expect(body.errors.map((field: { pointer: string }) => field.pointer)).toEqual([pointer]);
  });
});
