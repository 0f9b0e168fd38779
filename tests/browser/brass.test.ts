/** A trumpet as a director meets it: from the complaint to the outcome, in a real browser, in words that fit brass. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type BrowserBench, openBrowserBench, watchForTrouble } from './support/bench.ts';
import { sortForeignWords } from './support/foreign-words.ts';
import { pointerHands } from './support/hands.ts';
import { headline, keepDiary, words, wordsUnder } from './support/reading.ts';
import { openVisit } from './support/visit.ts';

let bench: BrowserBench;
beforeAll(async () => {
  bench = await openBrowserBench();
});
afterAll(() => bench.dispose());

describe('a second valve that sticks', () => {
  it('is cleaned and oiled in the band room and plays, without a word that belongs to another instrument', async () => {
    const page = await bench.phone();
    const trouble = watchForTrouble(page);
    const diary = keepDiary(page);
    const visit = await openVisit(pointerHands(page), bench.server.address, {
      instrument: 'Trumpet',
      who: 'Band director',
      toHand: ['A small flat screwdriver', 'Thin paper', 'Somebody to help', 'What I blow on'],
      complaint: 'second valve sticks',
    });
    let patient = bench.patient('sluggish@valve.second', 'director', 'trumpet');
    await visit.walk(
      () => patient,
      {
        owner: 'The school or the band',
        'owner-word': 'Yes',
        'procedure.oil-valve.try-it': () => {
          patient = bench.patient(null, 'director', 'trumpet');
          return 'Every time';
        },
      },
      { look: diary.look },
    );

    expect(diary.read('understood')).toContain('The second valve is slow, rough, or hangs now and then.');
    expect(diary.read('play-test')).toMatch(/Middle G G4 .*?Middle F sharp F#4 .*?Low F F4/);
    const proof = 'confirm/work-valve@valve.second';
    expect(diary.read(proof)).toContain('Press the second valve straight down with a fingertip and let go.');
    expect(diary.read('before-treat')).toContain(
      'Found: the second valve moves slowly or sticks now and then.',
    );
    expect(diary.steps.indexOf(proof)).toBeLessThan(diary.steps.indexOf('procedure.oil-valve.take-out'));
    expect(diary.read('procedure.oil-valve.oil')).toContain('turn it gently until the guide clicks');

    expect(await headline(page)).toBe('It plays');
    expect(await wordsUnder(page, 'What was done')).toContain(
      'The second valve was wiped, oiled and put back.',
    );
    const all = [...diary.steps.map((step) => diary.read(step)), await words(page)];
    expect(all.flatMap(sortForeignWords(bench.content)('trumpet'))).toEqual([]);
    expect(trouble).toEqual([]);
  });
});
