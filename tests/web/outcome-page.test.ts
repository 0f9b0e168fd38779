import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { OutcomeView } from '../../src/runs/view.ts';
import { type PaperApp, startPaperApp } from './support/paper-app.ts';
import { readOutcome } from './support/paper-script.ts';

let paper: PaperApp;
let id: string;
let page: string;

beforeAll(async () => {
  paper = await startPaperApp();
  id = await paper.openRun();
  await paper.play(id, 'yes', 'tight', 'done', 'better');
  page = (await paper.agent.get(`/r/${id}`)).text;
});

afterAll(() => paper.app.close());

describe('the outcome page', () => {
  test('says what was wrong and how sure, what was done, and what comes next', () => {
    const { lead, done, recheck, untilMended, cautions, escalation, explanation } = readOutcome();
    for (const sentence of [
      lead,
      escalation,
      ...done,
      ...recheck,
      ...untilMended,
      ...cautions,
      ...explanation,
    ]) {
      expect(page).toContain(sentence);
    }
  });

  test('shows the other fingerings with their pictures', () => {
    expect(page).toMatch(
      /class="alternates">[\s\S]*<svg[\s\S]*low C sharp[\s\S]*Press the G sharp cup shut by hand\./,
    );
  });

  test('leads to the ticket, to what is known of the instrument and to a new start', () => {
    expect(page).toContain(`href="/r/${id}/ticket"`);
    expect(page).toContain('href="/instruments/alto-saxophone"');
    expect(page).toContain('<a class="answer quiet" href="/">Start another instrument</a>');
  });

  test('still lets the last answer be taken back', () => {
    expect(page).toContain(`action="/r/${id}/undo"`);
  });
});

describe('the bench ticket', () => {
  test('has everything that the bench needs on one sheet without a frame', async () => {
    const { text } = await paper.agent.get(`/r/${id}/ticket`);
    const ticket = readOutcome().ticket!;
    const parts = [
      ticket.number,
      ticket.urgency.level,
      ticket.suspects[0]!.title,
      ticket.suspects[0]!.confirm,
      ticket.adjustments[0]!,
      ticket.job.name,
      ticket.job.hours,
      ticket.tellTheBench[0]!,
    ];
    for (const part of parts) expect(text).toContain(part);
    expect(text).toMatch(/<dt>silent<\/dt><dd>low C sharp <span class="pitch">C#4<\/span><\/dd>/);
    expect(text).toContain('none given');
    expect(text).not.toContain('class="site"');
  });

  test('can be printed without a script, and says how', async () => {
    const { text } = await paper.agent.get(`/r/${id}/ticket`);
    expect(text).toMatch(/<button[^>]*id="print" hidden>/);
    expect(text).toContain('To print, use the print command of your browser.');
  });

  test('of a run under way is not there yet', async () => {
    const { status, text } = await paper.agent.get(`/r/${await paper.openRun()}/ticket`);
    expect(status).toBe(409);
    expect(text).toContain('This run has not ended yet');
  });
});

test('an outcome without a ticket offers none', async () => {
  const outcome: OutcomeView = { ...readOutcome(), ticket: null, alternates: [], recheck: [] };
  const bare = await startPaperApp({ runs: { outcome: async () => outcome } });
  const { status, text } = await bare.agent.get('/r/some-run/ticket');
  expect(status).toBe(404);
  expect(text).toContain('This run ended without the bench, so there is no ticket.');
  await bare.app.close();
});

test('the ticket puts the notes that fail before those that speak', async () => {
  const ticket = {
    ...readOutcome().ticket!,
    notes: [
      { note: 'D4', name: 'low D', answered: 'speaks' },
      { note: 'C#4', name: 'low C sharp', answered: 'silent' },
      { note: 'E4', name: 'low E', answered: 'speaks' },
    ],
  };
  const other = await startPaperApp({ runs: { outcome: async () => ({ ...readOutcome(), ticket }) } });
  const { text } = await other.agent.get('/r/some-run/ticket');
  const answers = [...text.matchAll(/<dt>(speaks|silent)<\/dt><dd>([\s\S]*?)<\/dd>/g)];
  expect(answers.map(([, answered]) => answered)).toEqual(['silent', 'speaks']);
  expect(answers[1]?.[2]).toMatch(/^low D <span[^>]*>D4<\/span>, low E /);
  await other.app.close();
});
