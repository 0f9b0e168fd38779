/** A flute as a director meets it: from the complaint to the outcome, in a real browser, and every word fits a flute. */
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

describe('a flute whose F key leaves the F sharp cup open', () => {
  it('comes from the complaint to "It plays", without a word that belongs to another instrument', async () => {
    const page = await bench.phone();
    const trouble = watchForTrouble(page);
    const diary = keepDiary(page);
    const visit = await openVisit(pointerHands(page), bench.server.address, {
      instrument: 'Flute',
      who: 'Band director',
      toHand: ['A small flat screwdriver', 'Thin paper', 'Somebody to help'],
      complaint: 'low F and middle F are airy',
    });
    let patient = bench.patient('slack@link.f-closes-fsharp', 'director', 'flute');
    await visit.walk(
      () => patient,
      {
        owner: 'The school or the band',
        'owner-word': 'Yes',
        'procedure.turn-screw.test': (count) => {
          if (count === 1) patient = bench.patient(null, 'director', 'flute');
          return ['Only a trace is left', 'It is gone'][count] ?? '';
        },
      },
      { look: diary.look },
    );

    expect(diary.read('ready-mouthpiece')).toContain('Wipe the lip plate');
    expect(diary.read('confirm/lands@link.f-closes-fsharp')).toContain('F cup or F sharp cup');
    expect(diary.read('before-treat')).toContain(
      'Found: the F key does not bring the F sharp cup all the way down.',
    );
    expect(diary.read('procedure.turn-screw.be-sure')).toContain('F key to the B flat cup');
    const all = [...diary.steps.map((step) => diary.read(step)), await words(page)];
    expect(all.flatMap(sortForeignWords(bench.content)('flute'))).toEqual([]);

    expect(await headline(page)).toBe('It plays');
    expect(await words(page)).toContain('It was this: the F key does not bring the F sharp cup');
    expect(await wordsUnder(page, 'What was done')).toContain('clockwise');
    expect(trouble).toEqual([]);
  });
});
