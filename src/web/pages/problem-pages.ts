/** The pages that explain every problem of the catalogue; their addresses are the types of problem documents. */
import type { FastifyInstance } from 'fastify';
import { isProblemCode, Problem, type ProblemCode, problemCatalogue } from '../../problems.ts';
import type { PageParts } from '../parts.ts';
import { problemPath } from '../paths.ts';

/**
 * GET /problems and GET /problems/:code.
 * @param app a scope of pages
 * @param parts renderer
 */
export function addProblemPages(app: FastifyInstance, parts: PageParts): void {
  const codes = Object.keys(problemCatalogue) as ProblemCode[];

  app.get('/problems', (_request, reply) => {
    const problems = codes.map((code) => ({ code, ...problemCatalogue[code], path: problemPath(code) }));
    return reply
      .type('text/html; charset=utf-8')
      .send(parts.renderer.page('problem-list', { title: 'What can go wrong' }, { problems }));
  });

  app.get<{ Params: { code: string } }>('/problems/:code', (request, reply) => {
    const { code } = request.params;
    if (!isProblemCode(code))
      throw new Problem('unknown-page', 'No problem has this name. The list is at /problems.');
    const entry = problemCatalogue[code];
    return reply
      .type('text/html; charset=utf-8')
      .send(parts.renderer.page('problem-entry', { title: entry.title }, { code, ...entry }));
  });
}
