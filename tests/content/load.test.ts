import { cpSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Content, loadContent, loadFlow, tellProblem } from '../../src/content/index.ts';

import {
  alteredFolder,
  flowsFolder,
  folderFor,
  lineOf,
  problemsOf,
  removeFolders,
} from './support/altered-folder.ts';

afterAll(removeFolders);

describe('the content that is served', () => {
  let content: Content;
  beforeAll(() => {
    content = loadContent(flowsFolder);
  });

  test('has an instrument with its layout and its diagnosis', () => {
    const alto = content.instruments.get('alto-saxophone');
    expect(alto?.instrument.name).toBe('Alto saxophone');
    expect(alto?.layout.instrument).toBe('alto-saxophone');
    expect(alto?.model.checks.length).toBeGreaterThan(20);
  });

  test('can treat every fault for which the diagnosis knows a procedure', () => {
    const procedures = content.flow.charts.procedures.map(({ procedure }) => procedure);
    expect(procedures).toEqual(
      expect.arrayContaining([
        'turn-screw',
        'free-pad',
        'hook-spring',
        'remove-object',
        'seat-neck',
        'change-reed',
        'set-mouthpiece',
        'drain-water',
      ]),
    );
  });

  test('has the classes of work and the levels of urgency that a ticket may name', () => {
    const jobs = [
      'look-and-advise',
      'regulation',
      'spring',
      'pad',
      'key-and-rod',
      'neck',
      'body',
      'clean',
      'cork',
    ];
    expect([...content.jobs.keys()]).toEqual(expect.arrayContaining(jobs));
    expect([...content.urgencies.keys()]).toEqual([
      'safety',
      'now',
      'this-week',
      'next-slot',
      'season',
      'hold',
    ]);
  });

  test('marks every figure of bench time as published or as an estimate', () => {
    for (const { basis, source } of content.jobs.values()) {
      if (basis === 'estimate') expect(source).toContain('estimate');
    }
  });

  test('has a source behind every caution', () => {
    for (const { source } of content.cautions.values()) {
      for (const id of source)
        expect(['common practice, no source', 'estimate', 'derived', ...content.sources.keys()]).toContain(
          id,
        );
    }
  });
});

describe('a kept copy of the parsed files', () => {
  const copyPath = () => folderFor('copy', 'parsed-flows.json');

  test('gives the same content, without reading YAML again', () => {
    const first = loadContent(flowsFolder, { parsedCopy: copyPath() });
    const kept = readFileSync(copyPath(), 'utf8');
    const second = loadContent(flowsFolder, { parsedCopy: copyPath() });
    expect(second.edition).toBe(first.edition);
    expect(second.documents).toEqual(first.documents);
    expect(readFileSync(copyPath(), 'utf8')).toBe(kept);
  });

  test('is passed over and made anew when a file has changed', () => {
    loadContent(flowsFolder, { parsedCopy: copyPath() });
    const altered = alteredFolder('newer', {
      'main.yaml': (text) => text.replace('Whose instrument is it?', 'Whose is it?'),
    });
    const content = loadContent(altered, { parsedCopy: copyPath() });
    const begun = content.flow.begin({ person: 'director', tools: [] });
    const next = content.flow.take(begun, { type: 'choice', choice: 'done' });
    if ('refused' in next) throw new Error(next.refused);
    expect(content.flow.step(next.state).title).toBe('Whose is it?');
    expect(loadContent(altered, { parsedCopy: copyPath() }).edition).toBe(content.edition);
  });

  test.each([
    ['cut short', (text: string) => text.slice(0, 5000)],
    ['altered inside', (text: string) => text.replace('Whose instrument is it?', 'Whose horn is it?')],
  ])('is passed over when it is %s', (_, spoil) => {
    const right = loadContent(flowsFolder, { parsedCopy: copyPath() });
    writeFileSync(copyPath(), spoil(readFileSync(copyPath(), 'utf8')));
    expect(loadContent(flowsFolder, { parsedCopy: copyPath() }).edition).toBe(right.edition);
  });

  test('need not be possible: without a place to write, the content is loaded all the same', () => {
    writeFileSync(folderFor('a-file'), '');
    expect(() => loadContent(flowsFolder, { parsedCopy: folderFor('a-file', 'copy.json') })).not.toThrow();
  });
});

describe('mistakes in the files', () => {
  test('that are no YAML are told with the line', () => {
    const copy = alteredFolder('no-yaml', {
      'jobs/common.yaml': (text) => text.replace('    name: Regulation', '    name: Regulation: all of it'),
    });
    const [problem] = problemsOf(() => loadFlow(copy));
    expect(problem).toMatchObject({
      file: 'jobs/common.yaml',
      line: lineOf(join(copy, 'jobs/common.yaml'), 'Regulation: all of it'),
    });
    expect(problem!.message).toMatch(/^is not YAML here: /);
  });

  test('that are written twice are told with the line', () => {
    const copy = alteredFolder('twice', {
      'main.yaml': (text) => text.replace('  owner-word:\n', '  owner:\n'),
    });
    const [problem] = problemsOf(() => loadFlow(copy));
    expect(problem!.message).toMatch(/unique/);
    expect(problem!.line).toBeGreaterThan(50);
  });

  test('in a state name the file, the line and column, the state, the place in it and what to do', () => {
    const copy = alteredFolder('nowhere', {
      'main.yaml': (text) =>
        text.replace('label: I am not sure, to: danger-look,', 'label: I am not sure, to: danger-luck,'),
    });
    const [problem] = problemsOf(() => loadFlow(copy));
    expect(problem!.line).toBe(lineOf(join(copy, 'main.yaml'), 'danger-luck'));
    expect(tellProblem(problem!)).toMatch(
      /^main\.yaml:\d+:9, state owner, choices > 3: leads to "danger-luck", which is not a state of this chart; its states are understood, owner, /,
    );
  });

  test('inside a list that is shared by a YAML alias lead to where it is written', () => {
    const copy = alteredFolder('alias', {
      'main.yaml': (text) =>
        text.replace(
          '{ when: { confirmed: true }, to: before-treat }',
          '{ when: { confirmed: true }, to: before-tweak }',
        ),
    });
    const problems = problemsOf(() => loadFlow(copy)).filter(({ message }) =>
      message.includes('before-tweak'),
    );
    expect(problems.map(({ state }) => state)).toEqual(['set-up-weigh', 'weigh']);
    for (const { line } of problems)
      expect(Math.abs(line! - lineOf(join(copy, 'main.yaml'), 'before-tweak'))).toBeLessThan(150);
    expect(problems[0]!.line).toBeLessThanOrEqual(lineOf(join(copy, 'main.yaml'), 'before-tweak'));
  });

  test('in the shape are told all at once, in every file', () => {
    const copy = alteredFolder('shape', {
      'main.yaml': (text) =>
        text.replace('    kind: question\n    title: Whose', '    kind: quiz\n    title: Whose'),
      'cautions/common.yaml': (text) => text.replace(/^ {4}text:/m, '    txet:'),
      'procedures/free-pad.yaml': (text) =>
        text.replace('adjusts: false', 'adjusts: perhaps').replace('part: mechanism', 'part: pads'),
    });
    const told = problemsOf(() => loadFlow(copy)).map(tellProblem);
    expect(told).toContainEqual(expect.stringMatching(/^main\.yaml:\d+:\d+, state owner, kind: /));
    expect(told).toContainEqual(
      expect.stringMatching(
        /^cautions\/common\.yaml:\d+:\d+, cautions > 0: has "txet", which is not known here; check the spelling/,
      ),
    );
    expect(told).toContainEqual(
      expect.stringMatching(
        /^cautions\/common\.yaml:\d+:\d+, cautions > 0 > text: must be string and is missing/,
      ),
    );
    expect(told).toContainEqual(
      expect.stringMatching(/^procedures\/free-pad\.yaml:\d+:1, adjusts: must be boolean/),
    );
    expect(told).toContainEqual(
      expect.stringMatching(
        /^procedures\/free-pad\.yaml:\d+:1, part: must be one of set-up, player, mechanism/,
      ),
    );
  });

  test('between the files are told where they stand', () => {
    const copy = alteredFolder('between', {
      'faults/cups.yaml': (text) => text.replace('procedure: free-pad', 'procedure: free-the-pad'),
      'faults/links.yaml': (text) =>
        text.replace('job: regulation', 'job: magic').replace('source: [burkhardt,', 'source: [hearsay,'),
    });
    const file = join(copy, 'faults/links.yaml');
    const told = problemsOf(() => loadContent(copy));
    const find = (pattern: RegExp) => told.find(({ message }) => pattern.test(message));
    expect(find(/there is no procedures\/free-the-pad\.yaml/)).toMatchObject({
      file: 'faults/cups.yaml',
      line: lineOf(join(copy, 'faults/cups.yaml'), 'free-the-pad'),
    });
    expect(find(/names the job "magic"; jobs.yaml has .*look-and-advise/)).toMatchObject({
      line: lineOf(file, 'magic'),
    });
    expect(find(/names the source "hearsay", which no list of sources has/)).toMatchObject({
      line: lineOf(file, 'hearsay'),
    });
    expect(find(/treats no kind of fault/)).toMatchObject({ file: 'procedures/free-pad.yaml' });
  });

  test('about what adjusts are not taken from two files', () => {
    const copy = alteredFolder('adjusts', {
      'faults/links.yaml': (text) => text.replace('adjusts: true', 'adjusts: false'),
    });
    expect(problemsOf(() => loadContent(copy)).map(({ message }) => message)).toContainEqual(
      expect.stringContaining('says adjusts: false, but procedures/turn-screw.yaml says true'),
    );
  });

  test('in the mechanism, the layout and the diagnosis are told with the rest', () => {
    const copy = alteredFolder('instrument', {
      'instruments/alto-saxophone/layout.yaml': (text) => text.replace('  cup.gsharp:', '  cup.gflat:'),
      'checks/cups.yaml': (text) => text.replace(/sense: \w+/, 'sense: sixth'),
    });
    const told = problemsOf(() => loadContent(copy))
      .map(tellProblem)
      .join('\n');
    expect(told).toMatch(/instruments\/alto-saxophone\/layout\.yaml:\d+:\d+, vents > cup\.gflat: /);
    expect(told).toContain('has the sense "sixth"');
  });

  test('in the names of files are told', () => {
    const copy = alteredFolder('names', {});
    cpSync(join(copy, 'procedures', 'free-pad.yaml'), join(copy, 'procedures', 'free-pads.yaml'));
    writeFileSync(join(copy, 'notes.yaml'), 'a: 1\n');
    rmSync(join(copy, 'jobs'), { recursive: true });
    const told = problemsOf(() => loadContent(copy)).map(tellProblem);
    expect(told).toContainEqual(
      expect.stringContaining(
        'procedures/free-pads.yaml:3:1, procedure: says it is "free-pad"; the id and the file name must be the same',
      ),
    );
    expect(told).toContainEqual(expect.stringContaining('notes.yaml:1:1: is read by no part of the program'));
    expect(told).toContainEqual('jobs.yaml: is missing');
  });
});
