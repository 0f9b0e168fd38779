/**
 * The catalogue of everything that can go wrong for somebody who uses the server.
 * One entry gives the HTTP status, the fixed title, and what it means and what to do (shown at /problems/<code>);
 * the detail of one problem says what happened this time.
 * The identity of a problem is its code (RFC 9457 `type`); a retired code is never used again.
 */
export const problemCatalogue = {
  'bad-request': {
    status: 400,
    title: 'Something in the request does not fit',
    meaning:
      'A field is missing, has a value that is not taken here, or is not known. Each field is named with what would be right.',
  },
  'unknown-instrument': {
    status: 404,
    title: 'There is no such instrument here',
    meaning: 'The instrument id is not one of those that this server knows. GET /api/instruments lists them.',
  },
  'unknown-note': {
    status: 422,
    title: 'That note is not on this instrument',
    meaning:
      'Notes are written pitch, such as C#4 or Db4, within the range of the instrument. A fingering has to belong to the note.',
  },
  'unknown-check': {
    status: 422,
    title: 'There is no such check on this instrument',
    meaning: 'GET /api/instruments/{id} lists the checks of an instrument with their answers.',
  },
  'unknown-answer': {
    status: 422,
    title: 'That is not one of the answers',
    meaning: 'Every step and every check takes the answers it shows and no others.',
  },
  'unknown-run': {
    status: 404,
    title: 'There is no such run here',
    meaning:
      'The code of the run is mistyped, or the run was opened on another server. Look at the code once more, or start a new run.',
  },
  'unknown-page': {
    status: 404,
    title: 'There is no such page here',
    meaning: 'The address is mistyped or the page has gone. Begin again from the start page.',
  },
  'wrong-method': {
    status: 405,
    title: 'That address does not take this kind of request',
    meaning: 'The address exists. The Allow header says which methods it takes.',
  },
  'stale-step': {
    status: 409,
    title: 'This run has moved on',
    meaning:
      'The answer came from an older page: somebody else, another tab or the back button was faster. Nothing was changed. Look at the step of now and answer that.',
  },
  'key-reused': {
    status: 422,
    title: 'That key was used for another answer',
    meaning:
      'A key belongs to one answer, so that a repeated send counts once. Send a new answer under a new key.',
  },
  'nothing-to-undo': {
    status: 409,
    title: 'There is nothing to take back',
    meaning: 'The run stands at its first step.',
  },
  'run-not-ended': {
    status: 409,
    title: 'This run has not ended yet',
    meaning: 'A run has an outcome and a bench ticket once its last step is answered.',
  },
  'example-only': {
    status: 403,
    title: 'This is an example',
    meaning:
      'The example run is there to be read. Start a run of your own from the start page and answer that.',
  },
  'too-large': {
    status: 413,
    title: 'The request is too large',
    meaning: 'A request may be 64 kB at most.',
  },
  'wrong-media-type': {
    status: 415,
    title: 'The request is in a form that is not taken here',
    meaning: 'The API takes application/json; the pages take what a form sends.',
  },
  'cross-site': {
    status: 403,
    title: 'The request came from another site',
    meaning: 'Only pages of this server may send answers to it. Open the run here and answer it here.',
  },
  'too-slow': {
    status: 408,
    title: 'The request took too long to arrive',
    meaning: 'The connection was too slow or stopped half way. Send the request again.',
  },
  'too-busy': {
    status: 503,
    title: 'Too much is asked for at once',
    meaning: 'Many paper versions are being made just now. Ask again in a minute.',
  },
  'no-paper-version': {
    status: 422,
    title: 'This complaint has no paper version',
    meaning:
      'The complaint can come from so many parts that no two pages of questions lead to one of them. Begin a run, or send the instrument to the bench.',
  },
  'headers-too-large': {
    status: 431,
    title: 'The headers of the request are too large',
    meaning: 'Clear the cookies of this address, or send fewer headers.',
  },
  'store-unavailable': {
    status: 503,
    title: 'The run could not be saved just now',
    meaning:
      'Nothing was changed. Try again in a moment; if it stays so, the disk of the server needs a look.',
  },
  unexpected: {
    status: 500,
    title: 'Something went wrong on our side',
    meaning: 'It is not your doing. The answers given so far are kept. Go back to the run and try once more.',
  },
} as const satisfies Record<string, { status: number; title: string; meaning: string }>;

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

/** Whether a text is one of the codes of the catalogue. */
export function isProblemCode(text: string): text is ProblemCode {
  return Object.hasOwn(problemCatalogue, text);
}

/** Whether an error is a problem with one of these codes. */
export function isProblemOf(error: unknown, ...codes: ProblemCode[]): error is Problem {
  return error instanceof Problem && codes.includes(error.code);
}
