/** The job as people do it: from the start page to the outcome, in a real browser, by what stands on the page. */
import type { BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type BrowserBench, openBrowserBench, watchForTrouble } from './support/bench.ts';
import { type Hands, keyboardHands, pointerHands } from './support/hands.ts';
import { type Diary, headline, keepDiary, words, wordsUnder } from './support/reading.ts';
import { type Opening, openVisit, type Presses, type Visit } from './support/visit.ts';

let bench: BrowserBench;
beforeAll(async () => {
  bench = await openBrowserBench();
});
afterAll(() => bench.dispose());

const backedOutScrew = 'slack@link.fsharp-holds-gsharp';
const everything = ['A small flat screwdriver', 'Thin paper', 'Somebody to help', 'What I blow on'];
const director: Opening = {
  who: 'Band director',
  toHand: everything,
  complaint: 'C sharp, B and B flat do not come out',
};
const ownerSays: Presses = { owner: 'The school or the band', 'owner-word': 'Yes' };

type Scene = {
  readonly visit: Visit;
  readonly page: Page;
  readonly diary: Diary;
  readonly trouble: string[];
};

async function begin(
  opening: Opening,
  options: BrowserContextOptions = {},
  handsOf: (page: Page) => Hands = pointerHands,
): Promise<Scene> {
  const page = await bench.phone(options);
  const trouble = watchForTrouble(page);
  const visit = await openVisit(handsOf(page), bench.server.address, opening);
  return { visit, page, diary: keepDiary(page), trouble };
}

async function openTicket({ page, visit }: Scene): Promise<void> {
  await visit.hands.press(page.getByRole('link', { name: 'The bench ticket' }));
  await page.waitForURL(/\/ticket$/);
}

describe('a slack screw, mended in the band room by a director', () => {
  it('comes from the complaint to "It plays", by keyboard alone', async () => {
    const scene = await begin(director, {}, keyboardHands);
    const { visit, page, diary, trouble } = scene;
    let patient = bench.patient(backedOutScrew);
    await visit.walk(
      () => patient,
      {
        ...ownerSays,
        'procedure.turn-screw.test': (count) => {
          if (count === 2) patient = bench.patient(null);
          return ['Better, but still plain', 'Only a trace is left', 'It is gone'][count] ?? '';
        },
      },
      { look: diary.look },
    );

    expect(diary.read('play-test')).toMatch(/Play these first 0 of \d+ played Low D D4 .*?Low C sharp C#4/);
    const proof = 'confirm/tap@link.fsharp-holds-gsharp';
    expect(diary.read(proof)).toContain('Tap the G sharp touch and watch the G sharp cup');
    expect(diary.read('before-treat')).toContain(
      'Found: the screw that lets the right hand hold the G sharp cup shut is backed out.',
    );
    expect(diary.read('before-treat')).toContain('You need: a small flat screwdriver');
    expect(diary.read('before-treat')).toContain('Take care The blade must be as wide as the slot');
    expect(diary.steps.indexOf(proof)).toBeLessThan(diary.steps.indexOf('procedure.turn-screw.find-screw'));

    const quarter = 'procedure.turn-screw.turn-quarter';
    expect(diary.read(quarter, 0)).toContain(
      'a quarter turn clockwise (in), lightly. So far you have turned nothing.',
    );
    expect(diary.read(quarter, 1)).toContain('So far you have turned a quarter turn.');
    expect(diary.read('procedure.turn-screw.turn-eighth')).toContain('So far you have turned half a turn.');
    expect(diary.read('procedure.turn-screw.stop-sign')).toContain('It does not stir');
    expect(diary.read('procedure.turn-screw.too-far')).toContain('Do they touch down together?');
    expect(diary.read('retest')).toContain('low C sharp (C#4), low B (B3), low B flat (Bb3)');

    expect(await headline(page)).toBe('It plays');
    expect(await words(page)).toContain(
      'It was this: the screw that lets the right hand hold the G sharp cup shut',
    );
    expect(await wordsUnder(page, 'What was done')).toContain('Turned five eighths of a turn clockwise.');
    expect(await wordsUnder(page, 'Look again in a week')).toContain(
      'Play the notes that had failed, softly.',
    );
    expect(await wordsUnder(page, 'What to do now')).toContain('Play it as usual.');
    expect(await wordsUnder(page, 'Where to turn next')).toContain('it needs the bench');
    expect(await wordsUnder(page, 'How we know')).toContain(
      'low C sharp (C#4), low B (B3) and low B flat (Bb3)',
    );
    expect(await page.getByRole('link', { name: 'bench ticket' }).count()).toBe(0);
    expect(diary.titles.at(-1)).toBe('It plays · Alto saxophone · Quarter Turn');
    expect(new Set(diary.titles).size).toBe(new Set(diary.steps).size);
    expect(trouble).toEqual([]);
  });
});

describe('the same screw, turned too far', () => {
  it('is backed off, then put back, and the ticket tells the bench so; in the dark', async () => {
    const scene = await begin(director, { colorScheme: 'dark' });
    const { visit, page, diary, trouble } = scene;
    await visit.walk(
      () => bench.patient(backedOutScrew),
      {
        ...ownerSays,
        'procedure.turn-screw.test': (count) => (count === 0 ? 'Only a trace is left' : 'It is gone'),
        'procedure.turn-screw.too-far': 'No, it has gone too far',
        'procedure.turn-screw.test-again': 'The fault is there',
        needed: 'Later, or there is a spare',
      },
      { look: diary.look },
    );

    expect(diary.read('procedure.turn-screw.back-off')).toContain(
      'an eighth of a turn back, anticlockwise (out)',
    );
    expect(diary.read('procedure.turn-screw.put-back')).toContain(
      'Turn the screw back by a quarter turn, anticlockwise (out), until the slot stands at your mark again.',
    );
    expect(await headline(page)).toBe('Put back, and to the bench');
    expect(await wordsUnder(page, 'What was done')).toContain(
      'It did not help, and everything was put back as it was.',
    );
    expect(await wordsUnder(page, 'Until it is mended')).toContain('change nothing else');
    expect(await wordsUnder(page, 'Where to turn next')).toContain(
      'Tell them what was tried, and that it was put back',
    );

    await openTicket(scene);
    expect(await words(page)).toContain('Next slot The ordinary queue');
    expect(await wordsUnder(page, 'Adjusted')).toContain(
      'F sharp bar to the G sharp cup. It did not help, and everything was put back as it was.',
    );
    expect(await wordsUnder(page, 'Looked at and felt')).toContain('It stirs, however little');
    expect(await wordsUnder(page, 'How the notes answer')).toMatch(/silent .*low B B3/);
    expect(trouble).toEqual([]);
  });
});

describe('a leaking palm key', () => {
  it('ends at the bench with a ticket; with JavaScript off', async () => {
    const scene = await begin(director, { javaScriptEnabled: false });
    const { visit, page, diary } = scene;
    await visit.walk(
      () => bench.patient('leaks@cup.palm-d'),
      { ...ownerSays, needed: 'Within ten days, or there is no spare' },
      { look: diary.look },
    );

    expect(diary.steps.join(' ')).not.toContain('turn-screw');
    expect(diary.read('confirm/paper@cup.palm-d')).toContain('draw the strip out gently');
    expect(await headline(page)).toBe('This is for the bench');
    expect(await words(page)).toContain('The likely cause: the pad of the palm D cup does not seal.');
    expect(await words(page)).toContain('Take care This is a finding, not an order.');
    expect(await wordsUnder(page, 'Until it is mended')).toContain('It may be played as far as it plays.');
    expect(await wordsUnder(page, 'Where to turn next')).toContain('Give the ticket to the shop');

    await openTicket(scene);
    expect(await headline(page)).toBe(`Bench ticket ${visit.code().toUpperCase()}`);
    expect(await words(page)).toContain('This week The next open slot');
    expect(await words(page)).toContain('Complaint C sharp, B and B flat do not come out');
    expect(await wordsUnder(page, 'Job')).toMatch(
      /^One pad: .* Bench time: 15 minutes to 30 minutes \(estimate\)/,
    );
    expect(await wordsUnder(page, 'Adjusted')).toBe('Nothing was adjusted.');
    expect(await wordsUnder(page, 'For the bench')).toContain('Pad of the palm D cup leaks');
    expect(await page.getByText('To print, use the print command of your browser.').count()).toBe(1);
  });
});

describe('a worn reed', () => {
  it('is found before any key is touched, and changed', async () => {
    const { visit, page, diary, trouble } = await begin(director);
    let patient = bench.patient('set-up@setup.reed');
    await visit.walk(
      () => patient,
      {
        ...ownerSays,
        'procedure.change-reed.place': () => {
          patient = bench.patient(null);
          return 'Done';
        },
      },
      { look: diary.look },
    );

    expect(diary.steps.join(' ')).not.toMatch(/turn-screw|tap@|paper@/);
    expect(diary.read('set-up-confirm/try-reed@setup.reed')).toContain('play the notes that failed');
    expect(await headline(page)).toBe('It was not the instrument');
    expect(await words(page)).toContain('the trouble lies in the reed');
    expect(await words(page)).toContain('Nothing was adjusted, and the notes speak.');
    expect(await wordsUnder(page, 'What to do now')).toContain('Keep a second good reed in the case');
    expect(trouble).toEqual([]);
  });
});

describe('the desk with a caller', () => {
  it('ends in a booking with job class, time and urgency, and never asks for an adjustment', async () => {
    const scene = await begin({ who: 'Shop desk', complaint: 'low notes do not speak' });
    const { visit, page, diary, trouble } = scene;
    await visit.walk(
      () => bench.patient(backedOutScrew, 'desk'),
      { owner: 'The player’s family', needed: 'Within two days, and there is no spare' },
      { look: diary.look },
    );

    expect(diary.steps.join(' ')).not.toMatch(/procedure\.|ready-/);
    expect(diary.read('approval')).toContain('Ask the caller who may approve a repair');
    expect(diary.read('set-up-check/mouthpiece-alone@instrument')).toContain('Read this out to the caller:');
    expect(await headline(page)).toBe('Book it in');
    expect(await words(page)).toContain(
      'Suspected: the screw that lets the right hand hold the G sharp cup shut',
    );
    expect(await wordsUnder(page, 'Where to turn next')).toContain('Give no price by telephone');

    await openTicket(scene);
    expect(await words(page)).toContain('Now Looked at the same day');
    expect(await words(page)).toContain('Found by shop desk');
    expect(await wordsUnder(page, 'Job')).toMatch(
      /^Regulation: .* Bench time: 30 minutes to 1 hour \(estimate\)/,
    );
    expect(await wordsUnder(page, 'Adjusted')).toBe('Nothing was adjusted.');
    expect(trouble).toEqual([]);
  });
});

describe('a helper at a clinic', () => {
  it('fetches the supervisor before a tool touches the instrument, and takes a no', async () => {
    const scene = await begin({ who: 'Student helper', toHand: everything });
    const { visit, page, diary, trouble } = scene;
    const patient = () => bench.patient(backedOutScrew, 'helper');
    await visit.walk(patient, ownerSays, { look: diary.look, until: ['supervisor'] });
    expect(diary.steps.join(' ')).not.toContain('procedure.');
    expect(await headline(page)).toBe('Fetch your supervisor');
    expect(await words(page)).toContain('They must say yes, and stay beside you while you do it.');
    expect(await words(page)).toContain('one small screw a little at a time, clockwise (in)');

    await visit.answer('They said yes and are here');
    expect(await headline(page)).toBe('Find the screw');
    await visit.answer('Take this back');
    expect(await headline(page)).toBe('Fetch your supervisor');
    await visit.answer('They said no');
    await visit.walk(patient, {});

    expect(await headline(page)).toBe('This is for the bench');
    await openTicket(scene);
    expect(await words(page)).toContain('Found by student helper');
    expect(await wordsUnder(page, 'Adjusted')).toBe('Nothing was adjusted.');
    expect(trouble).toEqual([]);
  });
});
