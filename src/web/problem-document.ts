/** Problem documents (RFC 9457): what the API answers when something does not fit. */
import { z } from 'zod';
import { Problem } from '../problems.ts';
import { problemPath } from './paths.ts';

export const ProblemDocument = z.looseObject({
  type: z.string().describe('identity of the problem: the address of the page that explains it'),
  title: z.string(),
  status: z.number().int(),
  detail: z.string().describe('what happened this time and what to do'),
  instance: z.string().describe('this occurrence; the same id stands in the log of the server'),
  errors: z
    .array(z.object({ pointer: z.string().describe('JSON pointer of the field'), detail: z.string() }))
    .optional(),
});

export type ProblemDocument = z.infer<typeof ProblemDocument>;

/**
 * The document of one occurrence of a problem.
 * @param problem what went wrong
 * @param requestId id of the request, a UUID
 */
export function toDocument(problem: Problem, requestId: string): ProblemDocument {
  return {
    ...problem.extra,
    type: problemPath(problem.code),
    title: problem.title,
    status: problem.status,
    detail: problem.message,
    instance: `urn:uuid:${requestId}`,
    ...(problem.fields.length === 0 ? {} : { errors: [...problem.fields] }),
  };
}

/**
 * Any error as a problem: problems stay as they are, refusals of the framework get their catalogue entry, and everything
 * else is an unexpected error of which the reader learns nothing but that.
 * @param error whatever was thrown
 */
export function toProblem(error: unknown): Problem {
  if (error instanceof Problem) return error;
  const { code, statusCode } = readFrameworkError(error);
  switch (code) {
    case 'FST_ERR_CTP_BODY_TOO_LARGE':
      return new Problem('too-large', 'Send at most 64 kB in one request.');
    case 'FST_ERR_CTP_INVALID_MEDIA_TYPE':
      return new Problem(
        'wrong-media-type',
        'Send application/json to the API; the pages take what their forms send.',
      );
    case 'FST_ERR_CTP_EMPTY_JSON_BODY':
      return new Problem('bad-request', 'The body is empty. Send a JSON object.');
    case 'FST_ERR_BAD_URL':
      return new Problem('bad-request', 'The address has a percent sign that stands for nothing.');
    case 'FST_ERR_MAX_PARAM_LENGTH':
      return new Problem('unknown-page', 'The address is longer than any that is in use here.');
  }
  if (statusCode === 400)
    return new Problem('bad-request', 'The body could not be read. Send well-formed JSON.');
  if (statusCode !== null && statusCode > 400 && statusCode < 500) {
    return new Problem('bad-request', 'The request could not be read.');
  }
  return new Problem('unexpected', 'Nothing is wrong with what you sent. Try again in a moment.', {
    cause: error,
  });
}

function readFrameworkError(error: unknown): { code: string | null; statusCode: number | null } {
  if (!(error instanceof Error)) return { code: null, statusCode: null };
  const code = 'code' in error && typeof error.code === 'string' ? error.code : null;
  const statusCode = 'statusCode' in error && typeof error.statusCode === 'number' ? error.statusCode : null;
  return { code, statusCode };
}
