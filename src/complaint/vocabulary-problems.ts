/** Whether the vocabulary fits the checks, and means one thing by one expression. */
import type { ChecksFile } from '../diagnosis/index.ts';
import { spellOut } from './expressions.ts';
import type { OfFamilies } from './families.ts';
import type { Vocabulary } from './schema.ts';

export type VocabularyProblem = { readonly path: readonly (string | number)[]; readonly message: string };

/**
 * Everything in the vocabulary that fits nothing: checks and answers that checks.yaml does not have, an expression that
 * stands in two entries of one list, a sentence with a blank that is not filled.
 */
export function findVocabularyProblems(vocabulary: Vocabulary, checks: ChecksFile): VocabularyProblem[] {
  const problems: VocabularyProblem[] = [];
  const kinds = new Map(checks.kinds.map((kind) => [kind.id, kind.answers.map(({ id }) => id)]));
  const look = (path: readonly (string | number)[], check: string, saw: string) => {
    const answers = kinds.get(check);
    if (answers === undefined)
      problems.push({
        path,
        message: `names the check "${check}"; checks.yaml has ${[...kinds.keys()].join(', ')}`,
      });
    else if (!answers.includes(saw))
      problems.push({ path, message: `"${saw}" is no answer to ${check}; it has ${answers.join(', ')}` });
  };
  for (const [index, sign] of vocabulary.signs.entries()) {
    for (const side of ['shown', 'negated'] as const) {
      const shown = sign[side];
      if (shown === undefined) continue;
      for (const list of ['checks', 'several'] as const) {
        for (const [at, { check, saw, says }] of (shown[list] ?? []).entries()) {
          look(['signs', index, side, list, at], check, saw);
          const blanks = list === 'checks' ? ['place'] : [];
          findBlanks(problems, ['signs', index, side, list, at, 'says'], says ?? '', blanks);
        }
      }
      findBlanks(problems, ['signs', index, side, 'says'], shown.says, ['place']);
    }
  }
  for (const [index, { check, saw, negated }] of vocabulary.stories.entries()) {
    look(['stories', index], check, saw);
    if (negated !== undefined) look(['stories', index, 'negated'], check, negated.saw);
  }
  for (const list of ['stretches', 'answers', 'signs', 'stories', 'noEffect'] as const) {
    findTwins(problems, list, vocabulary[list]);
  }
  return problems;
}

function findBlanks(
  problems: VocabularyProblem[],
  path: (string | number)[],
  says: string,
  known: string[],
): void {
  for (const [, word] of says.matchAll(/\{\{(\w+)\}\}/g)) {
    if (!known.includes(word!))
      problems.push({ path, message: `uses {{${word}}}; it can use {{${known.join('}}, {{')}}}` });
  }
}

function findTwins(
  problems: VocabularyProblem[],
  list: string,
  entries: readonly (OfFamilies & { words: readonly string[] })[],
): void {
  const seen = new Map<string, number[]>();
  for (const [index, { words, families }] of entries.entries()) {
    for (const row of new Set(words.flatMap(spellOut).map((stems) => stems.join(' ')))) {
      const others = seen.get(row) ?? [];
      const other = others.find((one) => isShared(families, entries[one]!.families));
      if (other !== undefined)
        problems.push({
          path: [list, index, 'words'],
          message: `"${row}" stands in entry ${other + 1} of ${list} too; keep one`,
        });
      seen.set(row, [...others, index]);
    }
  }
}

/** Whether two entries hold for one family both. */
function isShared(one: OfFamilies['families'], other: OfFamilies['families']): boolean {
  return one === undefined || other === undefined || one.some((family) => other.includes(family));
}
