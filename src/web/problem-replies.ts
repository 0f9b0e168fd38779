/** What a reader gets when something does not fit: a page for browsers, a problem document for programs. */

import { randomUUID } from 'node:crypto';
import { STATUS_CODES } from 'node:http';
import type { Socket } from 'node:net';
import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { Problem, type ProblemCode } from '../problems.ts';
import { securityHeaders } from './headers.ts';
import type { MethodsAt } from './methods.ts';
import { problemPath, runPath } from './paths.ts';
import { toDocument, toProblem } from './problem-document.ts';
import type { Renderer } from './render.ts';

const problemType = 'application/problem+json; charset=utf-8';

/**
 * Sets the handlers for errors and for addresses that nothing answers. To be called before any route.
 * @param app the root instance
 * @param renderer for the problem page
 * @param methodsAt which methods a path takes
 */
export function replyToProblems(app: FastifyInstance, renderer: Renderer, methodsAt: MethodsAt): void {
  app.setErrorHandler((error, request, reply) => {
    const problem = toProblem(error);
    if (problem.code === 'unexpected') {
      app.log.error(
        { request: request.id, route: request.routeOptions.url, err: problem.cause },
        'unexpected error',
      );
    }
    return sendProblem(problem, request, reply, renderer);
  });
  app.setNotFoundHandler((request, reply) => {
    const methods = methodsAt(pathOf(request));
    if (methods.length === 0) {
      throw new Problem(
        'unknown-page',
        'Nothing is kept at this address. Look at its spelling, or begin at the start page.',
      );
    }
    reply.header('allow', methods.join(', '));
    throw new Problem('wrong-method', `This address takes ${methods.join(', ')}.`);
  });
}

/**
 * Answers one request with one problem.
 * @param problem what does not fit
 * @param request whose path and Accept header say whether a page or a document is wanted
 * @param reply the reply to send
 * @param renderer for the problem page
 */
export function sendProblem(
  problem: Problem,
  request: FastifyRequest,
  reply: FastifyReply,
  renderer: Renderer,
): FastifyReply {
  reply.code(problem.status);
  if (problem.code === 'store-unavailable') reply.header('retry-after', '2');
  if (!wantsPage(request)) {
    return reply.type(problemType).send(JSON.stringify(toDocument(problem, request.id)));
  }
  const returnPath = runPathIn(pathOf(request));
  const html = renderer.page(
    'problem',
    { title: problem.title },
    {
      title: problem.title,
      status: problem.status,
      detail: problem.message,
      fields: problem.fields.map(({ pointer, detail }) => ({ name: pointer.slice(1), detail })),
      explainPath: problemPath(problem.code),
      returnPath: problem.code === 'unknown-run' ? null : returnPath,
      requestId: problem.code === 'unexpected' ? request.id : null,
      asksForCode: problem.code === 'unknown-run' || problem.code === 'unknown-page',
    },
  );
  return reply.type('text/html; charset=utf-8').send(html);
}

/**
 * Answers requests that never became one: broken HTTP, headers too large, too slow. The connection is closed.
 * @param error what the parser of Node says
 * @param socket the connection
 */
export function answerBrokenRequest(error: NodeJS.ErrnoException, socket: Socket): void {
  if (error.code === 'ECONNRESET' || !socket.writable) {
    socket.destroy();
    return;
  }
  const problem = toBrokenRequest(error.code);
  const body = JSON.stringify(toDocument(problem, randomUUID()));
  const headers = Object.entries({
    ...securityHeaders,
    'cache-control': 'no-store',
    connection: 'close',
    'content-type': problemType,
    'content-length': String(Buffer.byteLength(body)),
  }).map(([name, value]) => `${name}: ${value}\r\n`);
  socket.end(`HTTP/1.1 ${problem.status} ${STATUS_CODES[problem.status]}\r\n${headers.join('')}\r\n${body}`);
}

/**
 * Answers requests whose address the router cannot read; hooks do not run for these.
 * @param error what the router says
 * @param request the request
 * @param reply the reply to send
 */
export function answerUnreadableAddress(
  error: FastifyError,
  request: FastifyRequest,
  reply: FastifyReply,
): void {
  const problem = toProblem(error);
  request.server.log.info(
    { request: request.id, method: request.method, route: 'unreadable', status: problem.status },
    'request',
  );
  reply
    .code(problem.status)
    .headers({ ...securityHeaders, 'cache-control': 'no-store' })
    .type(problemType)
    .send(JSON.stringify(toDocument(problem, request.id)));
}

function toBrokenRequest(code: string | undefined): Problem {
  const [problem, detail]: [ProblemCode, string] =
    code === 'ERR_HTTP_REQUEST_TIMEOUT'
      ? ['too-slow', 'The request did not arrive in time. Send it again.']
      : code === 'HPE_HEADER_OVERFLOW'
        ? ['headers-too-large', 'Send smaller headers.']
        : ['bad-request', 'This is not well-formed HTTP.'];
  return new Problem(problem, detail);
}

function wantsPage(request: FastifyRequest): boolean {
  const path = pathOf(request);
  if (path === '/api/' || path.startsWith('/api/')) return false;
  const accept = request.headers.accept ?? '*/*';
  return accept.includes('text/html') || !accept.includes('json');
}

function pathOf(request: FastifyRequest): string {
  return request.url.split('?', 1)[0] ?? '/';
}

/** The run that an address belongs to, so that its page can be offered; null when it belongs to none. */
function runPathIn(path: string): string | null {
  const id = /^\/r\/([^/]+)/.exec(path)?.[1];
  return id === undefined ? null : runPath(safelyDecode(id));
}

function safelyDecode(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}
