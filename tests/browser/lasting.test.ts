/** What a run survives: reloading, going back, tapping twice, two tabs, second thoughts, and the loss of the server. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startServer } from '../support/server.ts';
import { type BrowserBench, openBrowserBench, watchForTrouble } from './support/bench.ts';
import { pointerHands } from './support/hands.ts';
import { headline, seen, words } from './support/reading.ts';
import { makeReadyRun } from './support/ready-run.ts';
import {
  chooseInstrument,
  continueVisit,
  noteSection,
  type Opening,
  openVisit,
  type PlayedNote,
  type Visit,
} from './support/visit.ts';

let bench: BrowserBench;
beforeAll(async () => {
  bench = await openBrowserBench();
});
afterAll(() => bench.dispose());

const director: Opening = { who: 'Band director', toHand: ['A small flat screwdriver'] };
const backedOutScrew = 'slack@link.fsharp-holds-gsharp';
const ownerSays = { owner: 'The school or the band', 'owner-word': 'Yes' };

/** A phone with a run that stands at this step. */
async function openAt(step: string): Promise<{ visit: Visit; page: Page; trouble: string[] }> {
  const code = await makeReadyRun(bench.server.address, bench.patient(backedOutScrew), { until: step });
  const page = await bench.phone();
  const trouble = watchForTrouble(page);
  await page.goto(`${bench.server.address}/r/${code}`);
  return { visit: continueVisit(pointerHands(page), bench.server.address), page, trouble };
}

/** Plays the first notes of the play test, as the instrument of the story answers. */
async function playNotes(visit: Visit, count: number): Promise<PlayedNote[]> {
  const rows = (await visit.run()).step.notes.slice(0, count);
  for (const [index, row] of rows.entries()) await visit.answerNote(row, index === 1 ? 'Unsteady' : 'Speaks');
  return rows;
}

const chosen = (page: Page, row: PlayedNote) => seen(noteSection(page, row).locator('[aria-pressed="true"]'));

describe('in the middle of the play test', () => {
  it('keeps every answer when the page is loaded anew, and goes on from there', async () => {
    const { visit, page, trouble } = await openAt('play-test');
    const rows = await playNotes(visit, 3);
    await page.reload();
    expect(await words(page)).toContain('3 of 14 played');
    expect(await Promise.all(rows.map((row) => chosen(page, row)))).toEqual(['Speaks', 'Unsteady', 'Speaks']);

    await visit.answerNote(rows[2]!, 'Silent');
    expect(await words(page)).toContain('3 of 14 played');
    expect(await chosen(page, rows[2]!)).toBe('Silent');
    expect(trouble).toEqual([]);
  });

  it('asks which note came out when another one did, and keeps it', async () => {
    const { visit, page } = await openAt('play-test');
    const [row] = await playNotes(visit, 1);
    await visit.answerNote(row!, 'Wrong note');
    const section = noteSection(page, row!);
    await section.getByLabel('Which note came out?').selectOption({ label: 'low E flat (Eb4)' });
    await section.getByRole('button', { name: 'Keep' }).click();
    await page.getByText('Another note: low E flat (Eb4)').waitFor();
    await page.reload();
    expect(await section.getByLabel('Which note came out?').inputValue()).toBe('Eb4');
  });
});

describe('the back button', () => {
  it('never answers anything: the run stands where it stood, and shows it again', async () => {
    const { visit, page, trouble } = await openAt('ready-place');
    const before = await visit.run();
    const here = page.url();
    await page.goBack();
    await page.goForward();
    expect(page.url()).toBe(here);
    expect(await headline(page)).toBe('Make a safe place');
    expect((await visit.run()).revision).toBe(before.revision);
    await visit.answer('Done');
    expect((await visit.run()).conversation).toHaveLength(before.conversation.length + 1);
    expect(trouble).toEqual([]);
  });
});

describe('a double click', () => {
  it('on an answer counts once', async () => {
    const { visit, page } = await openAt('danger-look');
    const before = (await visit.run()).conversation.length;
    await page.getByRole('button', { name: 'No, it looks whole' }).dblclick();
    await page.getByRole('heading', { name: 'Is it fit to be handled?' }).waitFor();
    expect((await visit.run()).conversation).toHaveLength(before + 1);
    expect(await page.getByRole('alert').count()).toBe(0);
  });

  it('on the start button opens one run', async () => {
    const page = await bench.phone();
    await page.goto(bench.server.address);
    await chooseInstrument(pointerHands(page), 'Alto saxophone');
    await page.getByRole('radio', { name: 'Band director' }).click();
    const opened: string[] = [];
    page.on('response', (response) => {
      const to = response.headers().location;
      if (response.status() === 303 && to !== undefined) opened.push(to);
    });
    await page.getByRole('button', { name: 'Start', exact: true }).dblclick();
    await page.waitForURL(/\/r\//);
    await page.waitForLoadState();
    expect(new Set([...opened, new URL(page.url()).pathname]).size).toBe(1);
  });

  it('on a note counts once, and two notes tapped in a row count both', async () => {
    const { visit, page } = await openAt('play-test');
    const [first, second] = (await visit.run()).step.notes;
    const button = (row: PlayedNote, name: string) =>
      noteSection(page, row).getByRole('button', { name, exact: true });
    await button(first!, 'Silent').dblclick();
    await button(second!, 'Speaks').click();
    await page.getByText('2 of 14 played').waitFor();
    const { conversation } = await visit.run();
    expect(conversation.slice(-2).map(({ answered }) => answered)).toEqual(['silent', 'speaks']);
  });
});

describe('a second tab', () => {
  it('that is late is told so, with what is asked now, and changes nothing', async () => {
    const { visit, page } = await openAt('danger-look');
    const other = await page.context().newPage();
    await other.goto(page.url());
    await visit.answer('No, it looks whole');
    const before = await visit.run();

    await other.getByRole('button', { name: 'Something is plainly bent' }).click();
    const notice = other.getByRole('alert');
    await notice.waitFor();
    expect(await seen(notice)).toContain('This run has moved on');
    expect(await seen(notice)).toContain('That has been answered already: “No, it looks whole”.');
    expect(await notice.evaluate((element) => element === document.activeElement)).toBe(true);
    expect(await headline(other)).toBe('Is it fit to be handled?');
    expect((await visit.run()).revision).toBe(before.revision);

    await continueVisit(pointerHands(other), bench.server.address).answer('No, nothing of the kind');
    expect(await headline(other)).toBe('Your own mouthpiece, your own reed');
    await page.reload();
    expect(await headline(page)).toBe('Your own mouthpiece, your own reed');
  });

  it('that is late with a note of the play test is told so as well', async () => {
    const { visit, page } = await openAt('play-test');
    const other = await page.context().newPage();
    await other.goto(page.url());
    const [row] = await playNotes(visit, 1);
    await noteSection(other, row!).getByRole('button', { name: 'Silent', exact: true }).click();
    await other.getByRole('alert').waitFor();
    expect(await seen(other.getByRole('alert'))).toContain('nothing was changed');
    expect(await chosen(other, row!)).toBe('Speaks');
  });
});

describe('second thoughts', () => {
  it('take the last answer back, one after another', async () => {
    const { visit, page } = await openAt('danger-clean');
    await visit.answer('Take this back');
    expect(await headline(page)).toBe('Look before you touch');
    await visit.answer('Take this back');
    expect(await headline(page)).toBe('May it be adjusted here?');
    await visit.answer('No');
    expect(await headline(page)).toBe('Look before you touch');
  });

  it('change an earlier answer, and what still fits stays', async () => {
    const { visit, page, trouble } = await openAt('ready-place');
    await page.getByText(/\d earlier answers/).click();
    await page.getByRole('link', { name: 'Change the answer to: May it be adjusted here?' }).click();
    expect(await words(page)).toContain('You said: Yes');
    await visit.answer('Nobody has asked yet');
    expect(await headline(page)).toBe('Make a safe place');
    const { conversation } = await visit.run();
    expect(conversation.map(({ answered }) => answered)).toContain('Nobody has asked yet');
    expect(conversation).toHaveLength(5);
    expect(trouble).toEqual([]);
  });
});

describe('coming back', () => {
  it('works with the code, typed in capitals and with blanks, on another phone', async () => {
    const { visit } = await openAt('ready-place');
    const phone = await bench.phone();
    await phone.goto(bench.server.address);
    await phone.getByLabel('Come back to a run').fill(visit.code().toUpperCase().replaceAll('-', ' '));
    await phone.getByRole('button', { name: 'Open' }).click();
    await phone.waitForURL(/\/r\//);
    expect(await headline(phone)).toBe('Make a safe place');
  });

  it('says in a sentence that a code is wrong, and keeps what was typed', async () => {
    const page = await bench.phone();
    await page.goto(bench.server.address);
    await page.getByLabel('Come back to a run').fill('abcd-2345-wxyz');
    await page.getByRole('button', { name: 'Open' }).click();
    expect(await seen(page.getByRole('alert'))).toContain('No run has this code');
    expect(await page.getByLabel('Come back to a run').inputValue()).toBe('abcd-2345-wxyz');
  });
});

describe('a server that is killed in the middle of a run', () => {
  it('goes on where it was once it is started again, from the page that was left open', async () => {
    const first = await startServer();
    const page = await bench.phone();
    const visit = await openVisit(pointerHands(page), first.address, director);
    const patient = () => bench.patient(backedOutScrew);
    await visit.walk(patient, ownerSays, { until: ['procedure.turn-screw.test'] });
    const before = await visit.run();

    await first.stop('SIGKILL');
    const second = await startServer({
      dataDirectory: first.dataDirectory,
      environment: { PORT: new URL(first.address).port },
    });
    try {
      expect(await visit.run()).toEqual(before);
      await visit.answer('Only a trace is left');
      expect(await words(page)).toContain('So far you have turned a quarter turn.');
      expect((await visit.run()).conversation).toHaveLength(before.conversation.length + 1);
    } finally {
      await second.dispose();
    }
  });
});
