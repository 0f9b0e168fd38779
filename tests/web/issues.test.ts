import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { toRequestProblem } from '../../src/web/issues.ts';

const check = (schema: z.ZodType, value: unknown) => {
  const { error } = schema.safeParse(value, { reportInput: true });
  if (error === undefined) throw new Error('The value fits.');
  return toRequestProblem(error, 'body');
};

describe('what zod finds wrong', () => {
  test.each([
    [z.object({ a: z.string() }), {}, { pointer: '/a', detail: 'This field is missing.' }],
    [z.object({ a: z.string() }), { a: 3 }, { pointer: '/a', detail: 'Give a value of the type string.' }],
    [z.object({ a: z.enum(['x', 'y']) }), { a: 'z' }, { pointer: '/a', detail: 'Give one of: x, y.' }],
    [
      z.object({ a: z.string().max(2) }),
      { a: 'abc' },
      { pointer: '/a', detail: 'Give at most 2 characters.' },
    ],
    [
      z.object({ a: z.array(z.int()).max(1) }),
      { a: [1, 2] },
      { pointer: '/a', detail: 'Give at most 1 entries.' },
    ],
    [z.object({ a: z.number().min(5) }), { a: 4 }, { pointer: '/a', detail: 'Give at least 5.' }],
    [z.object({ a: z.string().min(3, 'Say more.') }), { a: 'x' }, { pointer: '/a', detail: 'Say more.' }],
    [z.object({ 'a/b~c': z.string() }), {}, { pointer: '/a~1b~0c', detail: 'This field is missing.' }],
    [z.object({}), 'text', { pointer: '', detail: 'Give a value of the type object.' }],
  ])('becomes a pointer and a sentence that says what would be right (%#)', (schema, value, field) => {
    expect(check(schema, value).fields).toEqual([field]);
  });

  test('names the fields in the detail, so that nobody has to read the list', () => {
    const problem = check(z.object({ a: z.string(), b: z.string() }), {});
    expect(problem.message).toBe('These fields of the body do not fit: /a, /b.');
  });

  test('of several shapes speaks of the one that the value comes nearest to', () => {
    const shapes = z.union([
      z.strictObject({ note: z.string(), answered: z.string() }),
      z.strictObject({ check: z.string(), saw: z.string() }),
    ]);
    expect(check(shapes, { check: 'a' }).fields).toEqual([
      { pointer: '/saw', detail: 'This field is missing.' },
    ]);
    expect(check(z.array(shapes), [{ note: 'C4', answered: 1 }]).fields).toEqual([
      { pointer: '/0/answered', detail: 'Give a value of the type string.' },
    ]);
  });
});
