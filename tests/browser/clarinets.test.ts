/** Clarinets as a director meets them: from the complaint to the outcome, in a real browser, in words that fit a clarinet. */
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

describe('a beginner who cannot get over the break, the last finger off the middle of its hole', () => {
  it('comes to a lesson and not to the bench, without a word that belongs to another instrument', async () => {
    const page = await bench.phone();
    const trouble = watchForTrouble(page);
    const diary = keepDiary(page);
    const visit = await openVisit(pointerHands(page), bench.server.address, {
      instrument: 'B flat clarinet',
      who: 'Band director',
      toHand: ['A small flat screwdriver', 'Thin paper', 'Somebody to help', 'What I blow on'],
      complaint: "can't get over the break",
    });
    let patient = bench.patient('uncovered@hole.rh3', 'director', 'bb-clarinet');
    await visit.walk(
      () => patient,
      {
        owner: 'The school or the band',
        'owner-word': 'Yes',
        'procedure.coach-fingers.try-it': () => {
          patient = bench.patient(null, 'director', 'bb-clarinet');
          return 'It does';
        },
      },
      { look: diary.look },
    );

    expect(diary.read('understood')).toContain('from middle B up to middle D');
    expect(diary.read('ready-mouthpiece')).toContain(
      'a clean mouthpiece of your own, with a reed of your own',
    );
    expect(diary.read('play-test')).toMatch(/Low G G3 .*?Low E E3 .*?Middle B B4/);
    const proof = 'confirm/ring-print@hole.rh3';
    expect(diary.read(proof)).toContain('Is it a whole ring, in the middle of the soft part?');
    expect(diary.read('before-treat')).toContain('No part of the instrument is touched.');
    expect(diary.steps.indexOf(proof)).toBeLessThan(diary.steps.indexOf('procedure.coach-fingers.place'));

    expect(await headline(page)).toBe('The instrument is in order');
    expect(await words(page)).toContain('the finger does not quite cover the right third-finger hole');
    expect(await wordsUnder(page, 'What was done')).toContain('how to cover the right third-finger hole');
    const all = [...diary.steps.map((step) => diary.read(step)), await words(page)];
    expect(all.flatMap(sortForeignWords(bench.content)('bb-clarinet'))).toEqual([]);
    expect(trouble).toEqual([]);
  });
});
