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
      '- words: [dropped, drop it,',
      'names the check "droped"; checks.yaml has own-set-up,',
    ],
    [
      'an answer that its check does not have',
      (text: string) => text.replace('check: lift, saw: tacky', 'check: lift, saw: sticky'),
      'saw: sticky',
      '"sticky" is no answer to lift; it has',
    ],
    [
      'one expression for two things',
      (text: string) => text.replace('words: [stuck, stuck shut', 'words: [gummy, stuck, stuck shut'),
      'words: [gummy, stuck',
      '"gummi" stands in entry 1 of signs too; keep one',
    ],
  ])('that have %s are refused by file, line and what to do', (name, change, place, says) => {
    const copy = alteredFolder(name.replaceAll(' ', '-'), { 'complaint.yaml': change });
    const line = lineOf(join(copy, 'complaint.yaml'), place);
    const [problem] = told(copy);
    expect(problem).toContain(`complaint.yaml:${line}:`);
    expect(problem).toContain(says);
  });
});
