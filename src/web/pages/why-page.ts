/** The page that answers "Why do you think so?" at any step of a run. */
import type { FastifyInstance } from 'fastify';
import type { PageParts } from '../parts.ts';
import { toWhyModel } from './why-models.ts';

/**
 * GET /r/:id/why.
 * @param app a scope of pages
 * @param parts renderer and runs
 */
export function addWhyPage(app: FastifyInstance, { runs, renderer }: PageParts): void {
  app.get<{ Params: { id: string } }>('/r/:id/why', async (request, reply) => {
    const why = await runs.why(request.params.id);
    const html = renderer.page('why', { title: `Why we think so · ${why.instrument.name}` }, toWhyModel(why));
    return reply.type('text/html; charset=utf-8').send(html);
  });
}
