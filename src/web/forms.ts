/** Reading what a form sends: plain fields first, then the shapes that the runs take. */
import { createHash, randomUUID } from 'node:crypto';
import type { FastifyInstance } from 'fastify';
import { Problem } from '../problems.ts';
import { AnswerBody } from '../runs/schema.ts';
import { noteAnchor } from './paths.ts';

/**
 * Lets a scope of routes take forms and nothing else.
 * @param scope an encapsulated instance
 */
export function takeForms(scope: FastifyInstance): void {
  scope.removeAllContentTypeParsers();
  scope.addContentTypeParser(
    'application/x-www-form-urlencoded',
    { parseAs: 'string' },
    (_request, body, done) => done(null, new URLSearchParams(String(body))),
  );
}

/**
 * The fields of a posted form; none when nothing was sent.
 * @param body the parsed body of a request in a scope that takes forms
 */
export function readFields(body: unknown): URLSearchParams {
  return body instanceof URLSearchParams ? body : new URLSearchParams();
}

/** A key for one rendered form, so that sending it twice counts once. */
export function newKey(): string {
  return randomUUID();
}

export type PostedAnswer = { revision: number; key: string; answer: AnswerBody };

/**
 * The answer that a step page or the play-test page sent: `choice`, or `note` as "<fingering> <answer>" with
 * `sounded <fingering>` beside it.
 * The key is made of the form's own and of the answer: the same button twice counts once, while another button of the
 * same page is another answer to a step that has moved on.
 * @throws Problem `bad-request` when the form is not one of ours
 */
export function readAnswer(fields: URLSearchParams): PostedAnswer {
  const revision = readNumber(fields, 'revision');
  const key = readFormKey(fields);
  const parsed = AnswerBody.safeParse(composeAnswer(fields));
  if (!parsed.success)
    throw new Problem('bad-request', 'The form carries no answer. Go back to the run and tap one.');
  const digest = createHash('sha256').update(JSON.stringify(parsed.data)).digest('base64url').slice(0, 16);
  return { revision, key: `${key}.${digest}`, answer: parsed.data };
}

/**
 * The one-time key of a form.
 * @throws Problem `bad-request` when there is none
 */
export function readFormKey(fields: URLSearchParams): string {
  const key = fields.get('key') ?? '';
  if (!/^[\w-]{8,60}$/.test(key)) {
    throw new Problem('bad-request', 'The form carries no key. Load the page again and send it from there.');
  }
  return key;
}

/**
 * A whole number of a form.
 * @throws Problem `bad-request` when the field is not one
 */
export function readNumber(fields: URLSearchParams, name: string): number {
  const text = fields.get(name) ?? '';
  if (!/^\d{1,6}$/.test(text)) {
    throw new Problem('bad-request', 'The form is not whole. Load the page again and send it from there.');
  }
  return Number(text);
}

/** The elements of the play-test page at which its two groups of notes end. */
const groupEnds = ['enough', 'done'] as const;

/**
 * Where on the play-test page to come back to: the next note of the same group that waits, or the end of the group when
 * none does. It is the same note when its answer was only changed, or when the page goes on asking about it ("wrong note":
 * which one came out?).
 * @param fields `order`: the fingerings in the order of the page, a star after each that has its answer, and the two
 *   groups parted by a semicolon
 * @returns the id of an element of the page, or null when the form carries no note
 */
export function nextNoteAnchor(fields: URLSearchParams): string | null {
  const [fingering, answered, isHeard] = splitNote(fields);
  if (fingering === undefined) return null;
  const groups = (fields.get('order') ?? '').split(';').map((group) => group.split(' ').filter(Boolean));
  const place = groups.findIndex((group) => group.includes(fingering) || group.includes(`${fingering}*`));
  const group = groups[place] ?? [];
  const isChanged = !group.includes(fingering);
  if (isHeard === undefined && (isChanged || answered === 'wrong')) return noteAnchor(fingering);
  const at = group.findIndex((each) => each.replace('*', '') === fingering);
  const next = [...group.slice(at + 1), ...group.slice(0, Math.max(at, 0))].find(
    (each) => !each.endsWith('*'),
  );
  return next === undefined ? (groupEnds[place] ?? 'done') : noteAnchor(next);
}

/** The parts of `note`: fingering, answer, and "heard" when it says which note came out. */
function splitNote(fields: URLSearchParams): string[] {
  return fields.get('note')?.split(' ') ?? [];
}

function composeAnswer(fields: URLSearchParams): unknown {
  const proposed = fields.get('proposed');
  if (proposed !== null && proposed === fields.get('choice')) {
    return { type: 'proposals', ticked: fields.getAll('ticked') };
  }
  const [fingering, answered] = splitNote(fields);
  if (fingering === undefined) return { type: 'choice', choice: fields.get('choice') };
  const sounded = fields.get(`sounded ${fingering}`);
  const isHeard = answered === 'wrong' && sounded !== null && sounded !== '';
  return { type: 'note', fingering, answered, ...(isHeard ? { sounded } : {}) };
}
