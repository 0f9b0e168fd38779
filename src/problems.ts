/**
 * The catalogue of everything that can go wrong for somebody who uses the server.
 * One entry gives the HTTP status and the fixed title; the detail says what happened and what to do.
 * The identity of a problem is its code (RFC 9457 `type`); a retired code is never used again.
 */
export const problemCatalogue = {
  'bad-request': { status: 400, title: 'Something in the request does not fit' },
  'unknown-instrument': { status: 404, title: 'There is no such instrument here' },
  'unknown-note': { status: 422, title: 'That note is not on this instrument' },
  'unknown-check': { status: 422, title: 'There is no such check on this instrument' },
  'unknown-answer': { status: 422, title: 'That is not one of the answers' },
  'unknown-run': { status: 404, title: 'There is no such run here' },
  'unknown-page': { status: 404, title: 'There is no such page here' },
  'wrong-method': { status: 405, title: 'That address does not take this kind of request' },
  'stale-step': { status: 409, title: 'This run has moved on' },
  'key-reused': { status: 422, title: 'That key was used for another answer' },
  'nothing-to-undo': { status: 409, title: 'There is nothing to take back' },
  'run-not-ended': { status: 409, title: 'This run has not ended yet' },
  'too-large': { status: 413, title: 'The request is too large' },
  'wrong-media-type': { status: 415, title: 'The request is in a form that is not taken here' },
  'cross-site': { status: 403, title: 'The request came from another site' },
  'store-unavailable': { status: 503, title: 'The run could not be saved just now' },
  unexpected: { status: 500, title: 'Something went wrong on our side' },
} as const satisfies Record<string, { status: number; title: string }>;

export type ProblemCode = keyof typeof problemCatalogue;

/** One field of a request that does not fit: where (JSON pointer), what is wrong, and what would be right. */
export type FieldProblem = { readonly pointer: string; readonly detail: string };

/** An error meant for the reader: it carries a catalogue code, what to do, and the fields concerned. */
export class Problem extends Error {
  readonly code: ProblemCode;
  readonly fields: readonly FieldProblem[];
  /** Further members of the problem document, e.g. the known ids or the revision that is current. */
  readonly extra: Readonly<Record<string, unknown>>;

  /**
   * @param code which entry of the catalogue this is
   * @param detail one or two plain sentences: what happened and what to do
   * @param more the fields concerned, further members of the problem document, and the cause
   */
  constructor(
    code: ProblemCode,
    detail: string,
    more: { fields?: readonly FieldProblem[]; extra?: Record<string, unknown>; cause?: unknown } = {},
  ) {
    super(detail, more.cause === undefined ? undefined : { cause: more.cause });
    this.name = 'Problem';
    this.code = code;
    this.fields = more.fields ?? [];
    this.extra = more.extra ?? {};
  }

  /** The HTTP status of this problem. */
  get status(): number {
    return problemCatalogue[this.code].status;
  }

  /** The fixed title of this problem. */
  get title(): string {
    return problemCatalogue[this.code].title;
  }
}
