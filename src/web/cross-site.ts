/** Refuses writes that come from pages of another site. */
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { Problem } from '../problems.ts';

const safeMethods = new Set(['GET', 'HEAD', 'OPTIONS']);

/**
 * Refuses every request that may change something and comes from another site. Browsers say where a request comes from
 * by Sec-Fetch-Site (https and loopback only) and by Origin; a program that is no browser sends neither and is let through,
 * since nobody can be tricked into running it. There is no cookie here that could be abused; this guards the network
 * address, not a login.
 * @param app the root instance, before any route
 * @param publicUrl the origin under which people reach the server, or null when it is the address they typed
 */
export function refuseCrossSite(app: FastifyInstance, publicUrl: string | null): void {
  app.addHook('onRequest', (request, _reply, done) => {
    if (safeMethods.has(request.method) || isSameSite(request, publicUrl)) {
      done();
      return;
    }
    done(new Problem('cross-site', 'Only pages of this server may send this. Nothing was changed.'));
  });
}

function isSameSite(request: FastifyRequest, publicUrl: string | null): boolean {
  const site = request.headers['sec-fetch-site'];
  if (site !== undefined && site !== 'same-origin' && site !== 'none') return false;
  const origin = request.headers.origin;
  if (origin === undefined || origin === publicUrl) return true;
  return URL.canParse(origin) && new URL(origin).host === request.headers.host;
}
