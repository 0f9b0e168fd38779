import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { buildApp } from '../../src/app.ts';
import { readConfig } from '../../src/config.ts';
import { createLibrary } from '../../src/library/create-library.ts';
import type { WhyView } from '../../src/runs/why-schema.ts';
import { openRunsBench } from '../support/runs-bench.ts';
import { walkTo } from '../support/walk-to.ts';
import { type PaperApp, startPaperApp } from './support/paper-app.ts';
import { readWhy } from './support/paper-why.ts';
import { readText } from './support/read-html.ts';

let paper: PaperApp;
let id: string;
let page: string;

beforeAll(async () => {
  paper = await startPaperApp();
  id = await paper.openRun();
  page = readText((await paper.agent.get(`/r/${id}/why`)).text);
});

afterAll(() => paper.app.close());

/** The page for a view that differs from the paper one. */
async function pageOf(changes: Partial<WhyView>): Promise<string> {
  const other = await startPaperApp({ runs: { why: async (code) => ({ ...readWhy(code, 0), ...changes }) } });
  const { text } = await other.agent.get('/r/some-run/why');
  await other.app.close();
  return readText(text);
}

/** The table with a class, and its rows as the words of their cells. */
function readTable(html: string, name: string): { html: string; rows: string[][] } {
  const [table] = new RegExp(`<table class="reasons ${name}">[\\s\\S]*?</table>`).exec(html) ?? [];
  if (table === undefined) throw new Error(`The page has no table ${name}.`);
  const rows = [...table.matchAll(/<tr>([\s\S]*?)<\/tr>/g)].map(([, row = '']) =>
    [...row.matchAll(/<t[hd][^>]*>([\s\S]*?)<\/t[hd]>/g)].map(([, cell = '']) =>
      cell
        .replaceAll(/<[^>]*>/g, ' ')
        .replaceAll(/\s+/g, ' ')
        .trim(),
    ),
  );
  return { html: table, rows };
}

describe('the link "Why do you think so?"', () => {
  test.each([
    ['a question', []],
    ['a check', ['yes']],
    ['the play test', ['yes', 'tight']],
    ['an instruction', ['yes', 'tight', 'done']],
    ['the outcome', ['yes', 'tight', 'done', 'better']],
  ])('stands on %s', async (_, answers) => {
    const run = await paper.openRun();
    await paper.play(run, ...answers);
    const { text } = await paper.agent.get(`/r/${run}`);
    expect(text).toContain(`<a href="/r/${run}/why">Why do you think so?</a>`);
  });
});

describe('the page "Why we think so"', () => {
  test('begins with the explanation and leads back to the step', () => {
    expect(page).toMatch(
      /<h1>Why we think so<\/h1>\s*<p[^>]*>Low C sharp failed while low D and low E spoke\./,
    );
    expect(page.match(new RegExp(`<a[^>]*href="/r/${id}"[^>]*>Back to the step</a>`, 'g'))).toHaveLength(2);
  });

  test('says which answer lies between before and now', async () => {
    expect(page).toContain('Before and after your last answer: “Tap the G sharp cup”: It moves.');
    const treated = { kind: 'treatment', asked: 'the long screw', answered: 'treated' } as const;
    expect(await pageOf({ last: treated })).toContain(
      'Before and after the treatment of this part: the long screw.',
    );
    const notes = {
      kind: 'notes',
      asked: 'the 9 notes that you played',
      answered: '2 failed, 7 spoke',
    } as const;
    expect(await pageOf({ last: notes })).toContain(
      'Before and after the 9 notes that you played: 2 failed, 7 spoke.',
    );
  });

  test('shows each suspect before and now, with the change in a word and a sign', () => {
    expect(readTable(page, 'bars').rows).toEqual([
      ['When', 'How many have it', 'Change'],
      ['G sharp screw backed out'],
      ['Before', 'about 6 in 10', '+ rose'],
      ['Now', 'about 9 in 10'],
      ['Low C sharp pad leaks'],
      ['Before', 'about 3 in 10', '− fell'],
      ['Now', 'about 1 in 10'],
      ['Nothing wrong at all'],
      ['Now', 'fewer than 1 in 20', '= as before'],
      ['Everything else'],
      ['Before', 'about 1 in 10', '− fell a little'],
      ['Now', 'fewer than 1 in 20'],
    ]);
  });

  test('draws the shares as bars on one scale', () => {
    const widths = [...page.matchAll(/<rect class="share" width="([\d.]+)"/g)].map(([, width]) =>
      Number(width),
    );
    expect(widths).toEqual([60, 90, 30, 5, 4.5, 5, 0.5]);
    expect(page.match(/viewBox="0 0 100 4"/g)).toHaveLength(widths.length);
  });

  test('compares nothing while nothing has been answered', async () => {
    const why = readWhy('x', 0);
    const suspects = why.suspects.map((suspect) => ({ ...suspect, before: null, change: null }));
    const { rows } = readTable(await pageOf({ last: null, suspects }), 'bars');
    expect(rows.slice(0, 3)).toEqual([
      ['When', 'How many have it'],
      ['G sharp screw backed out'],
      ['Now', 'about 9 in 10'],
    ]);
  });

  test('sets what was heard against what each suspect predicts, notes that tell the same in one column', () => {
    expect(readTable(page, 'pattern').rows).toEqual([
      ['Note', 'low C sharp C#4', 'low D to low E D4 and E4'],
      ['You heard', 'silent', 'speaks'],
      ['G sharp screw backed out agrees with 3 of 3'],
      ['Expected', 'fails agrees', 'speaks agrees'],
      ['Low C sharp pad leaks agrees with 2 of 3'],
      ['Expected', 'speaks disagrees', 'speaks agrees'],
    ]);
  });

  test('keeps notes apart of which one suspect says different things', async () => {
    const { pattern } = readWhy('x', 0);
    const [first, second] = pattern.suspects;
    const [one, two, three] = second!.predictions;
    const predictions = [
      one!,
      two!,
      { ...three!, answers: 'fails', words: 'fails', fits: 'disagrees' } as const,
    ];
    const { rows } = readTable(
      await pageOf({ pattern: { ...pattern, suspects: [first!, { ...second!, predictions }] } }),
      'pattern',
    );
    expect(rows[0]).toEqual(['Note', 'low C sharp C#4', 'low D D4', 'low E E4']);
  });

  test('lets notes that tell the same share a column wherever they lie, once there would be too many', async () => {
    const { pattern } = readWhy('x', 0);
    const [first] = pattern.suspects;
    const [note] = pattern.notes;
    const [failing, speaking] = first!.predictions;
    const names = ['C4', 'D4', 'E4', 'F4', 'G4', 'A4', 'B4', 'C5'];
    const alternating = {
      notes: names.map((name, place) => ({
        ...note!,
        note: name,
        name: `the ${name}`,
        words: place % 2 === 0 ? 'silent' : 'speaks',
      })),
      suspects: [
        { ...first!, predictions: names.map((_, place) => (place % 2 === 0 ? failing! : speaking!)) },
      ],
    };
    const text = await pageOf({ pattern: alternating });
    const { rows } = readTable(text, 'pattern');
    expect(rows[0]).toEqual([
      'Note',
      'the C4, the E4, and 2 more C4, E4, G4, B4',
      'the D4, the F4, and 2 more D4, F4, A4, C5',
    ]);
    expect(rows[1]).toEqual(['You heard', 'silent', 'speaks']);
    expect(text).toContain('Notes that tell the same share a column, wherever they lie.');
    expect(page).not.toContain('wherever they lie');
  });

  test('counts nothing where no note could be told', async () => {
    const { pattern } = readWhy('x', 0);
    const suspects = pattern.suspects.map((suspect) => ({ ...suspect, agrees: 0, heard: 0 }));
    const text = await pageOf({ pattern: { ...pattern, suspects } });
    expect(text).toContain('nothing was heard to hold against it');
    expect(text).not.toContain('0 of 0');
  });

  test('says so when no note has been played', async () => {
    const text = await pageOf({ pattern: { notes: [], suspects: [] } });
    expect(text).toContain('No note has been played yet.');
    expect(text).not.toContain('class="reasons pattern"');
  });

  test('says of a check how long it takes, what it tells apart, and what each answer would leave', () => {
    expect(page).toMatch(
      /<h3>Press the low C sharp cup<\/h3>\s*<p[^>]*><b>Asked now\.<\/b> Takes about 30 seconds\.<\/p>/,
    );
    expect(page).toContain('Tells these two apart: “G sharp screw backed out” and “Low C sharp pad leaks”.');
    expect(readTable(page, 'leads').rows).toEqual([
      ['Your answer', 'Likeliest then', 'How many have it'],
      ['As before / Worse', 'the same as now', 'nearly all'],
      ['Better', 'Low C sharp pad leaks', 'about 6 in 10'],
    ]);
  });

  test('names checks that tell the same together, and leaves the part out when there is no check', async () => {
    const [check] = readWhy('x', 0).checks;
    const other = { ...check!, check: 'look@cup.csharp', title: 'Look at the cup', isAskedNow: false };
    const text = await pageOf({ checks: [check!, other] });
    expect(text.match(/<article/g)).toHaveLength(1);
    expect(text).toMatch(
      /Other ways to the same:<\/p>\s*<ul>\s*<li>Look at the cup <span[^>]*>\(about 30 seconds\)/,
    );
    expect(await pageOf({ checks: [] })).not.toContain('What could still tell more');
  });

  test('says when it tells how things stood before a treatment', async () => {
    const sentence = 'This is how things stood before the treatment.';
    expect(page).not.toContain(sentence);
    expect(await pageOf({ moment: 'before-treatment' })).toContain(sentence);
  });

  test('makes every table one that can be heard: caption, scopes, words for what is drawn', () => {
    for (const name of ['bars', 'pattern', 'leads']) {
      const { html } = readTable(page, name);
      expect(html).toMatch(/<caption[^>]*>(<span[^>]*>)?[^<]+/);
      for (const [heading] of html.matchAll(/<th(?: [^>]*)?>/g)) {
        expect(heading).toMatch(/scope="(col|row|rowgroup)"/);
      }
      for (const [svg] of html.matchAll(/<svg[^>]*>/g)) expect(svg).toContain('aria-hidden="true"');
    }
    expect(page).toMatch(/role="region" aria-labelledby="pattern-caption" tabindex="0"/);
  });

  test('needs no script and no inline style', () => {
    expect(page).not.toMatch(/<script|<style|\sstyle=/);
  });

  test('of a run that nobody knows is not there', async () => {
    expect((await paper.agent.get('/r/nobody/why')).status).toBe(404);
  });

  test('lets nothing through that would be read as markup', async () => {
    const raw = await startPaperApp({
      runs: { why: async (code) => ({ ...readWhy(code, 0), sentences: ['<b>loud</b>'] }) },
    });
    expect((await raw.agent.get('/r/some-run/why')).text).toContain('&lt;b&gt;loud&lt;/b&gt;');
    await raw.app.close();
  });
});

describe('the API', () => {
  test('gives the same view, and lists it with its schema', async () => {
    const { status, body } = await paper.agent.get(`/api/runs/${id}/why`);
    expect(status).toBe(200);
    expect(body).toEqual(readWhy(id, 0));
    const { body: document } = await paper.agent.get('/api/openapi.json');
    const operation = document.paths['/api/runs/{id}/why'].get;
    expect(operation.responses['200'].content['application/json'].schema).toEqual({
      $ref: '#/components/schemas/WhyView',
    });
    expect(Object.keys(document.components.schemas.WhyView.properties)).toEqual(Object.keys(body));
  });

  test('refuses a run that nobody knows', async () => {
    const { status, body } = await paper.agent.get('/api/runs/nobody/why');
    expect(status).toBe(404);
    expect(body.type).toBe('/problems/unknown-run');
  });
});

/** Loading the real content takes its time on a busy machine. */
const patience = 60_000;

test('the page over a real run sets the screw against the runner-up', { timeout: patience }, async () => {
  const bench = await openRunsBench();
  const app = buildApp({
    config: readConfig({ LOG_LEVEL: 'silent' }),
    runs: bench.runs,
    library: createLibrary(bench.content),
  });
  const run = await walkTo(bench, (step) => step.id.startsWith('confirm/'));
  const { payload, statusCode } = await app.inject({ url: `/r/${run}/why` });
  expect(statusCode).toBe(200);
  const { rows } = readTable(readText(payload), 'pattern');
  expect(rows[0]?.slice(1, 4)).toEqual(['low B flat to low B Bb3 and B3', 'low C C4', 'low C sharp C#4']);
  expect(rows[1]?.slice(1, 4)).toEqual(['silent', 'speaks', 'unsteady']);
  expect(rows[3]?.slice(1, 4)).toEqual(['fails or jumps up agrees', 'speaks agrees', 'suffers agrees']);
  expect(rows[5]?.[2]).toBe('suffers disagrees');
  await app.close();
  await bench.dispose();
});
