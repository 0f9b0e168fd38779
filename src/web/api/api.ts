/** The JSON API under /api, described by an OpenAPI 3.1 document that is made from the schemas its routes check with. */
import swagger from '@fastify/swagger';
import type { FastifyInstance } from 'fastify';
import type { ApiParts, PageParts } from '../parts.ts';
import { addContentRoutes } from './content-routes.ts';
import { documentOptions, tidyDocument } from './document.ts';
import { addRunRoutes } from './run-routes.ts';
import { checkByZod } from './validation.ts';

const documentPath = '/api/openapi.json';

/**
 * Registers the routes of the API and the document that describes them.
 * @param scope an encapsulated instance without a prefix
 * @param parts runs and library
 */
export async function addApi(scope: FastifyInstance, parts: ApiParts): Promise<void> {
  scope.removeContentTypeParser('text/plain');
  checkByZod(scope);
  await scope.register(swagger, documentOptions);
  await scope.register(
    (api, _options, done) => {
      addContentRoutes(api, parts);
      addRunRoutes(api, parts);
      done();
    },
    { prefix: '/api' },
  );
  let document: string | null = null;
  scope.get(documentPath, { schema: { hide: true } }, (_request, reply) => {
    document ??= JSON.stringify(tidyDocument(scope.swagger()));
    return reply.type('application/json; charset=utf-8').send(document);
  });
}

type Operation = { summary?: string; description?: string };

/**
 * GET /api: the same document to be read by people.
 * @param app the scope of the pages
 * @param parts renderer
 * @param readDocument gives the OpenAPI document once every route is registered
 */
export function addApiPage(app: FastifyInstance, parts: PageParts, readDocument: () => object): void {
  app.get('/api', (_request, reply) => {
    const { paths = {} } = readDocument() as { paths?: Record<string, Record<string, Operation>> };
    const operations = Object.entries(paths).flatMap(([path, methods]) =>
      Object.entries(methods).map(([method, { summary = '', description = '' }]) => ({
        method: method.toUpperCase(),
        path,
        summary,
        description,
      })),
    );
    return reply
      .type('text/html; charset=utf-8')
      .send(parts.renderer.page('api', { title: 'For programs' }, { documentPath, operations }));
  });
}
