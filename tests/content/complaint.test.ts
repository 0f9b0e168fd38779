import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { loadContent, tellProblem } from '../../src/content/index.ts';
import { alteredFolder, lineOf, problemsOf, removeFolders } from './support/altered-folder.ts';

afterAll(removeFolders);

describe('the words of complaints', () => {
  const told = (folder: string) =>
    problemsOf(() => loadContent(folder)).map((problem) => tellProblem(problem));

  test.each([
    [
      'a check that there is not',
      (text: string) => text.replace('check: dropped\n', 'check: droped\n'),
      'stories.yaml',
      '- words: [dropped, drop it,',
      'names the check "droped"; checks.yaml has ',
    ],
    [
      'an answer that its check does not have',
      (text: string) => text.replace('check: lift, saw: tacky', 'check: lift, saw: sticky'),
      'signs.yaml',
      'saw: sticky',
      '"sticky" is no answer to lift; it has',
    ],
    [
      'one expression for two things',
      (text: string) => text.replace('words: [stuck, stuck shut', 'words: [gummy, stuck, stuck shut'),
      'signs.yaml',
      'words: [gummy, stuck',
      'of signs too; keep one',
    ],
  ])('that have %s are refused by file, line and what to do', (name, change, piece, place, says) => {
    const copy = alteredFolder(name.replaceAll(' ', '-'), { [`complaint/${piece}`]: change });
    const line = lineOf(join(copy, 'complaint', piece), place);
    const [problem] = told(copy);
    expect(problem).toContain(`complaint/${piece}:${line}:`);
    expect(problem).toContain(says);
  });
});
