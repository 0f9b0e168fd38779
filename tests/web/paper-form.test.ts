/** The form for the paper version: it begins with no instrument chosen, and says so where one is missing. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type PaperApp, startPaperApp } from './support/paper-app.ts';
import { readText } from './support/read-html.ts';

let paper: PaperApp;
beforeAll(async () => {
  paper = await startPaperApp();
});
afterAll(() => paper.app.close());

const chosen = (html: string): string[] =>
  [...html.matchAll(/<option value="([^"]*)" selected>/g)].map(([, value]) => value!);

describe('the form for the paper version', () => {
  test('begins with no instrument, and cannot be sent without one', async () => {
    const { status, text } = await paper.agent.get('/paper');
    expect(status).toBe(200);
    expect(chosen(text)).toEqual(['']);
    expect(text).toMatch(/<select [^>]*required/);
    expect(text).not.toContain('role="alert"');
  });

  test.each(['', 'kazoo'])(
    'says that an instrument is missing when "%s" is sent, and keeps the rest',
    async (instrument) => {
      const { status, text } = await paper.agent.get(
        `/paper?instrument=${instrument}&person=desk&tools=paper`,
      );
      expect(status).toBe(400);
      expect(readText(text)).toContain('Choose the instrument.');
      expect(chosen(text)).toEqual(['']);
      expect(text).toMatch(/value="desk" checked/);
      expect(text).toMatch(/value="paper" checked/);
    },
  );

  test('goes on to the complaint with one', async () => {
    const { status, text } = await paper.agent.get('/paper?instrument=alto-saxophone&person=desk');
    expect(status).toBe(200);
    expect(readText(text)).toContain('Which notes fail?');
  });
});
