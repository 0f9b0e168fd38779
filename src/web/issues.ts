/** Turns what zod found wrong into fields with a JSON pointer and a sentence that says what would be right. */
import type { z } from 'zod';
import { type FieldProblem, Problem } from '../problems.ts';

type Issue = z.core.$ZodIssue;

/**
 * A problem that names every field that does not fit.
 * @param error what zod found
 * @param where which part of the request it is in, in plain words ("body", "address", …)
 */
export function toRequestProblem(error: z.core.$ZodError, where: string): Problem {
  const fields = error.issues.flatMap((issue) => describeIssue(issue));
  const named = fields.map(({ pointer }) => (pointer === '' ? `the ${where} itself` : pointer));
  return new Problem(
    'bad-request',
    `These fields of the ${where} do not fit: ${[...new Set(named)].join(', ')}.`,
    {
      fields,
    },
  );
}

/**
 * The fields that one issue concerns, each with its JSON pointer (RFC 6901) and a sentence.
 * @param issue one finding of zod
 * @param above the path of the value in which the issue's own path begins
 */
export function describeIssue(issue: Issue, above: readonly PropertyKey[] = []): FieldProblem[] {
  const path = [...above, ...issue.path];
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.map((key) => ({
      pointer: toPointer([...path, key]),
      detail: 'This field is not known here. Leave it out, or look at the spelling.',
    }));
  }
  if (issue.code === 'invalid_union') return describeUnion(issue, path);
  return [{ pointer: toPointer(path), detail: sayIssue(issue) }];
}

/** Of several shapes that a value may have, the one it comes nearest to says what is wrong. */
function describeUnion(issue: z.core.$ZodIssueInvalidUnion, path: readonly PropertyKey[]): FieldProblem[] {
  const branches = issue.errors.map((issues) => issues.flatMap((each) => describeIssue(each, path)));
  const nearest = branches.toSorted((one, other) => one.length - other.length)[0];
  return (
    nearest ?? [{ pointer: toPointer(path), detail: 'This has none of the shapes that are taken here.' }]
  );
}

function sayIssue(issue: Issue): string {
  const isMissing =
    'input' in issue ? issue.input === undefined : issue.message.endsWith('received undefined');
  if (isMissing) return 'This field is missing.';
  if (issue.code === 'invalid_value') return `Give one of: ${issue.values.map(String).join(', ')}.`;
  if (issue.code === 'invalid_type') return `Give a value of the type ${issue.expected}.`;
  if (issue.code === 'too_big')
    return ownWords(issue) ?? `Give at most ${issue.maximum}${unit(issue.origin)}.`;
  if (issue.code === 'too_small')
    return ownWords(issue) ?? `Give at least ${issue.minimum}${unit(issue.origin)}.`;
  return issue.message;
}

/** The schema's own sentence, where it has one; zod's stock sentences begin with "Too". */
function ownWords(issue: Issue): string | null {
  return issue.message.startsWith('Too ') ? null : issue.message;
}

function unit(origin: string): string {
  if (origin === 'string') return ' characters';
  return origin === 'array' ? ' entries' : '';
}

function toPointer(path: readonly PropertyKey[]): string {
  return path.map((key) => `/${String(key).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');
}
