/** What is known of each instrument, for those who want to check it: a list of all, and a page for one. */
import type { FastifyInstance } from 'fastify';
import type { InstrumentSummary } from '../library.ts';
import type { PageParts } from '../parts.ts';
import { instrumentPath, instrumentsPath } from '../paths.ts';
import { toInstrumentModel } from './instrument-models.ts';

/** The list of instruments, families together. */
export type InstrumentsModel = {
  families: { name: string; instruments: { name: string; path: string }[] }[];
};

/**
 * GET /instruments and GET /instruments/:id. Both are made once and kept.
 * @param app a scope of pages
 * @param parts renderer, library and the memory of pages
 */
export function addInstrumentPages(app: FastifyInstance, { library, renderer, pages }: PageParts): void {
  app.get(instrumentsPath, (request, reply) => {
    const render = () =>
      renderer.page('instruments', { title: 'What we know' }, toInstrumentsModel(library.instruments()));
    return pages.send('instruments', render, request, reply);
  });

  app.get<{ Params: { id: string } }>(`${instrumentsPath}/:id`, (request, reply) => {
    const detail = library.instrument(request.params.id);
    const head = { title: `What we know of it · ${detail.name}`, where: detail.name };
    const render = () => renderer.page('instrument', head, toInstrumentModel(detail));
    return pages.send(`instrument ${detail.id}`, render, request, reply);
  });
}

function toInstrumentsModel(instruments: readonly InstrumentSummary[]): InstrumentsModel {
  const families = Map.groupBy(instruments, ({ familyName }) => familyName);
  return {
    families: [...families].map(([name, members]) => ({
      name,
      instruments: members.map(({ id, name }) => ({ name, path: instrumentPath(id) })),
    })),
  };
}
