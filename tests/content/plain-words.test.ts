import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { ContentError, demandPlainWords, loadContent, tellProblem } from '../../src/content/index.ts';

const flowsFolder = new URL('../../flows', import.meta.url).pathname;
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'plain-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A copy of the real files without the first text of this key after this line. */
function without(file: string, after: string, key: string): string {
  const copy = join(folder, `${file}-${key}`.replaceAll('/', '-'));
  cpSync(flowsFolder, copy, { recursive: true });
  const text = readFileSync(join(copy, file), 'utf8');
  const start = text.search(new RegExp(`^ *${after}`, 'm'));
  const rest = text.slice(start).replace(new RegExp(`^( *)${key}:.*\n(\\1 +.*\n)*`, 'm'), '');
  writeFileSync(join(copy, file), text.slice(0, start) + rest);
  return copy;
}

const told = (copy: string): string[] => {
  try {
    demandPlainWords(copy);
  } catch (error) {
    if (error instanceof ContentError) return error.problems.map(tellProblem);
    throw error;
  }
  return [];
};

describe('plain words', () => {
  test('stand beside every step, check and caution of today', () => {
    expect(told(flowsFolder)).toEqual([]);
  });

  test.each([
    ['main.yaml', 'play-test:', 'plainly', /^main\.yaml:\d+:3, state play-test: has no "plainly": say it/],
    [
      'procedures/turn-screw.yaml',
      'be-sure:',
      'plainly',
      /^procedures\/turn-screw\.yaml:\d+:3, state be-sure: has no "plainly"/,
    ],
    ['procedures/seat-neck.yaml', 'aim:', 'done', /^procedures\/seat-neck\.yaml:\d+:1, .*has no "done"/],
    [
      'checks/links.yaml',
      '- id: tap',
      'plainly',
      /^checks\/links\.yaml:\d+:5, kinds > \d+: check tap: has no "plainly"/,
    ],
    [
      'checks/playing.yaml',
      'playNote:',
      'plainly',
      /^checks\/playing\.yaml:\d+:1, playNote: has no "plainly"/,
    ],
    [
      'cautions/common.yaml',
      '- id: hearing',
      'brief',
      /^cautions\/common\.yaml:\d+:5, .*caution hearing: has no "brief"/,
    ],
  ])(
    'are missed in %s after %s (%s), with file, line and step, though runs of such an edition go on',
    (file, after, key, says) => {
      const copy = without(file, after, key);
      expect(told(copy)).toEqual([expect.stringMatching(says)]);
      expect(loadContent(copy).flow.states.size).toBeGreaterThan(0);
      rmSync(copy, { recursive: true });
    },
  );

  test('are missed where the words of the trade are gone', () => {
    const copy = join(folder, 'no-words');
    cpSync(flowsFolder, copy, { recursive: true });
    rmSync(join(copy, 'words'), { recursive: true });
    expect(told(copy)).toEqual([expect.stringMatching(/^words\.yaml: is missing/)]);
    expect(loadContent(copy).words).toEqual([]);
  });
});
