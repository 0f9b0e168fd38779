/** The page on which an earlier answer is changed. */
import type { FastifyInstance } from 'fastify';
import { newKey, readAnswer, readFields, readNumber } from '../forms.ts';
import type { PageParts } from '../parts.ts';
import { changesPath, runPath } from '../paths.ts';
import { sendMovedOn } from './run-pages.ts';
import { splitChoices, toNoteRow, toParagraphs, toProposals, toReading } from './step-models.ts';

/**
 * GET /r/:id/change/:entry shows the step that the earlier answer belonged to; POST /r/:id/changes replaces the answer.
 * @param app a scope that takes forms
 * @param parts renderer, runs and library
 */
export function addChangePage(app: FastifyInstance, parts: PageParts): void {
  app.get<{ Params: { id: string; entry: string } }>('/r/:id/change/:entry', async (request, reply) => {
    const { id } = request.params;
    const entry = readNumber(new URLSearchParams({ entry: request.params.entry }), 'entry');
    const { step, answered, revision } = await parts.runs.earlierStep(id, entry);
    const run = await parts.runs.view(id);
    const html = parts.renderer.page(
      'change',
      {
        title: `Change an answer: ${step.title} · ${run.instrument.name}`,
        where: run.instrument.name,
        scripts: ['tone.js'],
      },
      {
        runPath: runPath(id),
        title: step.title,
        ask: toParagraphs(step.ask),
        answered,
        picture: step.picture,
        written: step.written,
        form: { actionPath: changesPath(id), revision, key: newKey(), asked: step.title, entry },
        ...(step.kind === 'notes' ? { choices: [], quietChoices: [] } : splitChoices(step)),
        helpPath: null,
        reading: step.kind === 'proposals' ? toReading(run, step) : null,
        proposals: toProposals(step),
        rows: step.notes.map((row) => toNoteRow(row, parts.library.notesNear(run.instrument.id, row.note))),
      },
    );
    return reply.type('text/html; charset=utf-8').send(html);
  });

  app.post<{ Params: { id: string } }>('/r/:id/changes', async (request, reply) => {
    const { id } = request.params;
    const fields = readFields(request.body);
    const entry = readNumber(fields, 'entry');
    const posted = readAnswer(fields);
    try {
      await parts.runs.change(id, { ...posted, entry });
    } catch (error) {
      return sendMovedOn(error, id, fields.get('asked'), parts, request, reply);
    }
    return reply.redirect(runPath(id), 303);
  });
}
