/** The page behind "I don’t understand": the step of now in plain words, and what may be done instead of it. */
import type { FastifyInstance } from 'fastify';
import type { RunView } from '../../runs/view.ts';
import type { PageParts } from '../parts.ts';
import { runPath } from '../paths.ts';
import type { HelpModel } from './models.ts';
import { splitChoices, toForm, toParagraphs } from './step-models.ts';

/** Not to be told from "I can’t do it" by what follows: another check comes. */
const anotherCheck = { id: 'could-not-tell', label: 'Ask me something else instead' };

/**
 * GET /r/:id/help. It changes nothing; its form answers the step as the step's own page would.
 * @param app a scope of pages
 * @param parts renderer, runs and the memory of pages
 */
export function addHelpPage(app: FastifyInstance, { runs, renderer, pages }: PageParts): void {
  app.get<{ Params: { id: string } }>('/r/:id/help', async (request, reply) => {
    const run = await runs.view(request.params.id);
    if (run.step.kind === 'outcome') return reply.redirect(runPath(run.id), 303);
    const head = {
      title: `In plain words: ${run.step.title} · ${run.instrument.name}`,
      where: run.instrument.name,
    };
    const render = () => renderer.page('help', head, toHelpModel(run));
    return pages.send(`${run.id} ${run.revision} help`, render, request, reply);
  });
}

function toHelpModel(run: RunView): HelpModel {
  const { step } = run;
  const instead = splitChoices(step).quietChoices.map((choice) =>
    step.kind === 'check' && choice.id === anotherCheck.id ? anotherCheck : choice,
  );
  return {
    runPath: runPath(run.id),
    title: step.title,
    isForCaller: run.person === 'desk' && step.kind === 'check',
    plainly: toParagraphs(step.plainly === '' ? step.ask : step.plainly),
    why: step.why,
    cautions: [...step.cautions, ...step.reminders.map(({ text }) => text)],
    picture: step.picture,
    terms: step.terms,
    form: toForm(run),
    instead,
  };
}
