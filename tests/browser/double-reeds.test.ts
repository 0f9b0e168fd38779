/** A bassoon put together out of line, and an oboe whose screw is for the bench: from the start page to the outcome. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makePatient, type Patient } from '../support/patient.ts';
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

describe('low notes that fail since a bassoon was put together', () => {
  it('come again when the joints are lined up, and no page speaks of another sort of instrument', async () => {
    const page = await bench.phone();
    const trouble = watchForTrouble(page);
    const { model } = bench.content.instruments.get('bassoon')!;
    const patientWith = (fault: string | null): Patient => makePatient(model, fault);
    let patient = patientWith('slack@link.e-closes-whisper');
    const diary = keepDiary(page);
    const visit = await openVisit(pointerHands(page), bench.server.address, {
      instrument: 'Bassoon',
      who: 'Band director',
      toHand: ['Thin paper', 'Somebody to help'],
      complaint: 'low E and everything below does not speak since it was put together',
    });
    await visit.walk(
      () => patient,
      {
        owner: 'The school or the band',
        'owner-word': 'No',
        'procedure.line-up-joints.try-it': () => {
          patient = patientWith(null);
          return 'Yes';
        },
      },
      { look: diary.look },
    );

    expect(diary.read('understood')).toContain('It began right after the instrument was put together.');
    expect(diary.read('ready-mouthpiece')).toContain('Leave every small screw alone.');
    const proof = 'confirm/in-line@link.e-closes-whisper';
    expect(diary.steps.indexOf(proof)).toBeGreaterThan(diary.steps.indexOf('play-test'));
    expect(diary.read('before-treat')).toContain(
      'Found: the pancake key does not bring the whisper key all the way down.',
    );
    expect(diary.read('procedure.line-up-joints.take-apart')).toContain(
      'Draw the two pieces apart with small turns to and fro.',
    );
    expect(await headline(page)).toBe('It plays');
    expect(await wordsUnder(page, 'What was done')).toContain('put together in line');

    const all = diary.steps.map((step) => diary.read(step)).join('\n') + (await words(page));
    expect(sortForeignWords(bench.content)('bassoon')(all)).toEqual([]);
    expect(trouble).toEqual([]);
  });
});

describe('an oboe that fails from F sharp down', () => {
  it('goes to the bench with the one screw named, and nobody is offered to turn it', async () => {
    const page = await bench.phone();
    const diary = keepDiary(page);
    const { model } = bench.content.instruments.get('oboe')!;
    const visit = await openVisit(pointerHands(page), bench.server.address, {
      instrument: 'Oboe',
      who: 'Band director',
      toHand: ['A small flat screwdriver', 'Thin paper'],
      complaint: 'F sharp and everything below is hard to get, G is fine',
    });
    await visit.walk(
      () => makePatient(model, 'slack@link.lh3-holds-bb'),
      { owner: 'The school or the band', 'owner-word': 'Yes', needed: 'Later, or there is a spare' },
      { look: diary.look },
    );
    expect(diary.read('confirm/tap@link.lh3-holds-bb')).toContain('watch the small B flat cup');
    expect(await headline(page)).toBe('This is for the bench');
    expect(await words(page)).toContain('the left third plate does not hold the small B flat cup shut');
    expect(diary.steps.filter((step) => step.startsWith('procedure'))).toEqual([]);
    const all = diary.steps.map((step) => diary.read(step)).join('\n') + (await words(page));
    expect(sortForeignWords(bench.content)('oboe')(all)).toEqual([]);
  });
});
