import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { afterAll, describe, expect, test } from 'vitest';
import { assembleContent, joinPieces, loadContent, tellProblem } from '../../src/content/index.ts';
import { alteredFolder, flowsFolder, problemsOf, removeFolders } from './support/altered-folder.ts';

afterAll(removeFolders);

/** The real files with some more beside them. */
function withPieces(name: string, pieces: Record<string, string>): string {
  const copy = alteredFolder(name, {});
  for (const [file, text] of Object.entries(pieces)) {
    mkdirSync(join(copy, file, '..'), { recursive: true });
    writeFileSync(join(copy, file), text);
  }
  return copy;
}

const told = (folder: string) => problemsOf(() => loadContent(folder)).map(tellProblem);
const tuner = '  - { id: tuner, title: A tuner, read: whole }\n';

describe('a file in pieces', () => {
  test('is the lists of all its pieces, in order of their names, and what stands in one of them', () => {
    const { documents, problems } = joinPieces({
      'checks/tube.yaml': { kinds: [{ id: 'c' }] },
      'checks/cups.yaml': { playNote: { title: 'Play' }, kinds: [{ id: 'a' }, { id: 'b' }] },
      'main.yaml': { chart: 'main' },
    });
    expect(problems).toEqual([]);
    expect(documents).toEqual({
      'checks.yaml': { playNote: { title: 'Play' }, kinds: [{ id: 'a' }, { id: 'b' }, { id: 'c' }] },
      'main.yaml': { chart: 'main' },
    });
  });

  test('takes another piece without a word anywhere else', () => {
    const copy = withPieces('one-more', {
      'jobs/of-ours.yaml': `jobs:
  - id: polish
    name: Polish
    includes: Polishing
    hours: { from: 1, to: 2 }
    basis: estimate
    source: [estimate, tuner]
sources:
${tuner}`,
    });
    const content = loadContent(copy);
    expect([...content.jobs.keys()]).toEqual(expect.arrayContaining(['regulation', 'polish']));
    expect(content.sources.has('tuner')).toBe(true);
  });

  test('tells what is wrong by the piece, the line and the place in that piece', () => {
    const copy = withPieces('wrong-piece', {
      'cautions/zz.yaml':
        'cautions:\n  - { id: quiet, text: Be quiet., source: [estimate] }\n  - { id: loud }\n',
    });
    expect(told(copy)).toContainEqual(
      expect.stringMatching(/^cautions\/zz\.yaml:3:5, cautions > 1 > text: must be string and is missing/),
    );
  });

  test('has an id once, and a value that is no list in one piece', () => {
    const copy = withPieces('twice', {
      'checks/zz.yaml': 'playNote: {}\nkinds:\n  - { id: paper }\n',
      'faults/zz.yaml': 'kinds:\n  - kind: leaks\n',
      'words/zz.yaml': '- not a map\n',
    });
    const all = told(copy);
    expect(all).toContainEqual('checks/zz.yaml:1:1, playNote: stands in checks/playing.yaml too; keep one');
    expect(all).toContainEqual(
      'checks/zz.yaml:3:5, kinds > 0: paper stands in checks/cups.yaml too; keep one',
    );
    expect(all).toContainEqual(
      'faults/zz.yaml:2:5, kinds > 0: leaks stands in faults/cups.yaml too; keep one',
    );
    expect(all).toContainEqual(expect.stringMatching(/^words\/zz\.yaml:1:1: must be lists and values/));
  });
});

describe('an edition that a run began with before the files were in pieces and knew families', () => {
  const stored = new URL('./editions/before-families.json.gz', import.meta.url);
  const edition = assembleContent(JSON.parse(gunzipSync(readFileSync(stored)).toString()));

  test('is the same edition still', () => {
    expect(edition.edition).toBe('48883d5480d735916b1aa2c4564b5da3754b32a29e79e04e567b1a3b3463eaa1');
  });

  test('goes on with its own words, whole', () => {
    const opening = { person: 'director', tools: [] } as const;
    const today = loadContent(flowsFolder);
    expect([...edition.instruments.keys()]).toContain('alto-saxophone');
    expect(edition.flow.step(edition.flow.begin(opening)).title).toBe(
      today.flow.step(today.flow.begin(opening)).title,
    );
    const { checks } = edition.instruments.get('alto-saxophone')!.model;
    expect(checks.find(({ id }) => id === 'mouthpiece-alone@instrument')?.ask).toContain('the neck');
  });
});
