/** The bench ticket as one printable sheet. */
import type { FastifyInstance } from 'fastify';
import { Problem } from '../../problems.ts';
import type { PageParts } from '../parts.ts';
import { runPath } from '../paths.ts';
import { sayDate } from './dates.ts';
import type { TicketModel } from './models.ts';

type TicketNotes = TicketModel['ticket']['notes'];

/**
 * GET /r/:id/ticket.
 * @param app a scope of pages
 * @param parts renderer and runs
 */
export function addTicketPage(app: FastifyInstance, parts: PageParts): void {
  app.get<{ Params: { id: string } }>('/r/:id/ticket', async (request, reply) => {
    const outcome = await parts.runs.outcome(request.params.id);
    if (outcome.ticket === null) {
      throw new Problem(
        'unknown-page',
        'This run ended without the bench, so there is no ticket. Its card for the case prints as well.',
      );
    }
    const html = parts.renderer.page(
      'ticket',
      { title: `Bench ticket ${outcome.ticket.number}`, scripts: ['print.js'], isSheet: true },
      {
        runPath: runPath(request.params.id),
        title: outcome.title,
        lead: outcome.lead,
        ticket: { ...outcome.ticket, opened: sayDate(outcome.ticket.opened) },
        noteGroups: groupNotes(outcome.ticket.notes),
        findings: outcome.ticket.findings.map(({ what, seen }) => ({
          what: what.endsWith('?') ? what : `${what}:`,
          seen,
        })),
        done: outcome.done,
        cautions: outcome.cautions,
        escalation: outcome.escalation,
      },
    );
    return reply.type('text/html; charset=utf-8').send(html);
  });
}

/** Notes that answered alike together, those that speak last: what fails is what the bench looks for. */
function groupNotes(notes: TicketNotes): TicketModel['noteGroups'] {
  const groups = [...Map.groupBy(notes, ({ answered }) => answered)].map(([answered, alike]) => ({
    answered,
    notes: alike.map(({ note, name }) => ({ note, name })),
  }));
  return groups.toSorted((one, other) => Number(isSound(one)) - Number(isSound(other)));
}

function isSound({ answered }: { answered: string }): boolean {
  return answered === 'speaks';
}
