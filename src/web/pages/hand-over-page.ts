/** The page by which somebody else takes a run over: its code to be read out, its link, and the link as a QR picture. */
import type { FastifyInstance } from 'fastify';
import type { RunView } from '../../runs/view.ts';
import { isLoopback, originOf } from '../address.ts';
import type { Library } from '../library.ts';
import type { PageParts } from '../parts.ts';
import { runPath } from '../paths.ts';
import { drawQr } from '../qr-picture.ts';
import { spellOut } from '../spelling.ts';
import type { HandOverModel } from './models.ts';

/**
 * GET /r/:id/hand-over.
 * @param app a scope of pages
 * @param parts renderer, runs, library, configuration and the memory of pages
 */
export function addHandOverPage(app: FastifyInstance, parts: PageParts): void {
  const { runs, renderer, library, config, pages } = parts;
  app.get<{ Params: { id: string } }>('/r/:id/hand-over', async (request, reply) => {
    const run = await runs.view(request.params.id);
    const origin = originOf(config, request);
    const head = { title: `Hand over · ${run.instrument.name}`, where: run.instrument.name };
    const render = () => renderer.page('hand-over', head, toHandOverModel(run, library, origin));
    return pages.send(`${run.id} ${run.revision} hand-over ${origin}`, render, request, reply);
  });
}

function toHandOverModel(run: RunView, { persons }: Library, origin: string | null): HandOverModel {
  const groups = run.id.split('-');
  const link = origin === null ? null : `${origin}${runPath(run.id)}`;
  return {
    runPath: runPath(run.id),
    groups: groups.map((letters) => ({ letters: letters.toUpperCase(), spelled: spellOut(letters) })),
    link,
    qr: link === null ? null : drawQr(link, 'The link of this run as a QR picture'),
    isLoopback: origin !== null && isLoopback(origin),
    standing: sayStanding(run, persons.find(({ id }) => id === run.person)?.label ?? run.person),
  };
}

/** Where the run stands, for the one who takes it over. */
function sayStanding(
  { instrument, conversation, complaint, progress, step }: RunView,
  person: string,
): string[] {
  const count = conversation.length === 1 ? '1 answer was' : `${conversation.length} answers were`;
  return [
    `${instrument.name}. ${conversation.length === 0 ? 'No answer was' : count} given so far, by: ${person}.`,
    ...(complaint === null ? [] : [`The complaint: “${complaint}”`]),
    ...(step.outcome === null
      ? [[progress.ruledOut, progress.ahead].filter(Boolean).join(' '), `The step of now: “${step.title}”.`]
      : [`It has come to its end: “${step.outcome.title}”.`]),
  ];
}
