/** The card that goes into the instrument's case: how the run ended, on one printable sheet. */
import type { FastifyInstance } from 'fastify';
import type { PageParts } from '../parts.ts';
import { runPath } from '../paths.ts';
import { sayDate } from './dates.ts';
import { meanwhileTitle } from './step-models.ts';

/**
 * GET /r/:id/card.
 * @param app a scope of pages
 * @param parts renderer and runs
 */
export function addCardPage(app: FastifyInstance, { runs, renderer }: PageParts): void {
  app.get<{ Params: { id: string } }>('/r/:id/card', async (request, reply) => {
    const { id } = request.params;
    const [outcome, run] = await Promise.all([runs.outcome(id), runs.view(id)]);
    const html = renderer.page(
      'card',
      { title: `Card for the case · ${run.instrument.name}`, scripts: ['print.js'], isSheet: true },
      {
        runPath: runPath(id),
        code: run.id.toUpperCase(),
        instrumentName: run.instrument.name,
        opened: sayDate(run.openedAt),
        outcome,
        meanwhileTitle: meanwhileTitle(outcome),
      },
    );
    return reply.type('text/html; charset=utf-8').send(html);
  });
}
