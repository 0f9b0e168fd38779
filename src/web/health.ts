/** Two addresses for whoever watches over the server. */
import type { FastifyInstance } from 'fastify';
import { Problem } from '../problems.ts';

/**
 * GET /healthz: the process answers. GET /readyz: it can also keep answers.
 * @param app the root instance
 * @param isReady whether the store takes writes; always so when not given
 */
export function addHealth(app: FastifyInstance, isReady: () => boolean | Promise<boolean>): void {
  app.get('/healthz', () => ({ status: 'up' }));
  app.get('/readyz', async () => {
    if (!(await isReady()))
      throw new Problem('store-unavailable', 'The store does not take answers just now.');
    return { status: 'ready' };
  });
}
