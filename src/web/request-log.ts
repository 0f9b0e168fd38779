/** One log line a request, without anything that says who asked or which run it was. */
import type { FastifyInstance } from 'fastify';

/**
 * Logs each finished request: its own id, method, route pattern (never the address itself, which holds the code of a
 * run), status and milliseconds. The text of a problem is not logged, because it may repeat what was sent.
 * @param app the root instance, before any route
 */
export function logRequests(app: FastifyInstance): void {
  app.addHook('onResponse', (request, reply, done) => {
    app.log.info(
      {
        request: request.id,
        method: request.method,
        route: request.routeOptions.url ?? 'unmatched',
        status: reply.statusCode,
        ms: Math.round(reply.elapsedTime * 10) / 10,
      },
      'request',
    );
    done();
  });
}
