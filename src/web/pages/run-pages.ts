/** The pages of a run: one step a page, its answers, and taking the last one back. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { isProblemOf, type Problem } from '../../problems.ts';
import type { RunView } from '../../runs/view.ts';
import { originOf } from '../address.ts';
import { nextNoteAnchor, readAnswer, readFields, readFormKey, readNumber } from '../forms.ts';
import { listeningPolicy } from '../headers.ts';
import type { PageParts } from '../parts.ts';
import { runPath } from '../paths.ts';
import type { NoticeModel } from './models.ts';
import { type Surroundings, toFrame, toNotesModel, toOutcomeModel, toStepModel } from './step-models.ts';

type RunRoute = { Params: { id: string } };

/**
 * GET /r/:id shows the step of now; POST /r/:id/answers and /r/:id/undo change it and come back by 303.
 * An answer that does not fit any more gets the step of now, with a notice that says why nothing was changed.
 * @param app a scope that takes forms
 * @param parts renderer, runs and library
 */
export function addRunPages(app: FastifyInstance, parts: PageParts): void {
  app.get<RunRoute>('/r/:id', async (request, reply) => {
    const run = await parts.runs.view(request.params.id);
    return sendStep(run, null, parts, request, reply);
  });

  app.post<RunRoute>('/r/:id/answers', async (request, reply) => {
    const { id } = request.params;
    const fields = readFields(request.body);
    const posted = readAnswer(fields);
    try {
      await parts.runs.answer(id, posted);
    } catch (error) {
      return sendMovedOn(error, id, fields.get('asked'), parts, request, reply);
    }
    const anchor = nextNoteAnchor(fields);
    return reply.redirect(anchor === null ? runPath(id) : `${runPath(id)}#${anchor}`, 303);
  });

  app.post<RunRoute>('/r/:id/undo', async (request, reply) => {
    const { id } = request.params;
    const fields = readFields(request.body);
    const revision = readNumber(fields, 'revision');
    try {
      await parts.runs.undo(id, { revision, key: readFormKey(fields) });
    } catch (error) {
      return sendMovedOn(error, id, null, parts, request, reply);
    }
    return reply.redirect(runPath(id), 303);
  });
}

/**
 * Shows the step of now after an answer that changed nothing.
 * @param error why the answer was refused; errors that are no refusals are thrown on
 * @param id the run
 * @param asked what the page of that answer asked, as its form says; null when it asked nothing
 */
export async function sendMovedOn(
  error: unknown,
  id: string,
  asked: string | null,
  parts: PageParts,
  request: FastifyRequest,
  reply: FastifyReply,
): Promise<FastifyReply> {
  if (!isProblemOf(error, ...refusals)) throw error;
  const run = await parts.runs.view(id);
  reply.code(error.status);
  return sendStep(run, toNotice(error, run, asked), parts, request, reply);
}

/** Refusals after which the step of now is shown, with why nothing was changed. */
const refusals = [
  'stale-step',
  'key-reused',
  'nothing-to-undo',
  'unknown-answer',
  'unknown-note',
  'example-only',
] as const;

function sendStep(
  run: RunView,
  notice: NoticeModel | null,
  parts: PageParts,
  request: FastifyRequest,
  reply: FastifyReply,
): FastifyReply {
  reply.headers(listeningPolicy);
  if (notice !== null) {
    return reply.type('text/html; charset=utf-8').send(renderStep(run, notice, parts, request));
  }
  const key = `${run.id} ${run.revision} ${hostOf(parts, request)}`;
  return parts.pages.send(key, () => renderStep(run, null, parts, request), request, reply);
}

function renderStep(
  run: RunView,
  notice: NoticeModel | null,
  parts: PageParts,
  request: FastifyRequest,
): string {
  const { library, renderer } = parts;
  const surroundings: Surroundings = { library, host: hostOf(parts, request) };
  const frame = toFrame(run, surroundings, notice);
  const shown = run.step.outcome?.title ?? run.step.title;
  const title = `${notice === null ? '' : `${notice.title}: `}${shown} · ${run.instrument.name}`;
  const where = `${frame.instrumentName} · ${frame.personLabel}`;
  switch (run.step.kind) {
    case 'notes':
      return renderer.page(
        'notes',
        { title, where, scripts: ['notes.js', 'tone.js', 'listen.js'] },
        toNotesModel(run, frame, library),
      );
    case 'outcome':
      return renderer.page(
        'outcome',
        { title, where, scripts: ['tone.js', 'listen.js'] },
        toOutcomeModel(run, frame),
      );
    default:
      return renderer.page('step', { title, where, scripts: scriptsFor(run) }, toStepModel(run, frame));
  }
}

/** What a step's page can use: the tone of the note that it asks for, the ear for the one that it has held. */
function scriptsFor({ step: { written, wavering } }: RunView): string[] {
  return [...(written === null ? [] : ['tone.js']), ...(wavering === null ? [] : ['listen.js'])];
}

/** The address under which the reader knows the server. */
function hostOf({ config }: PageParts, request: FastifyRequest): string {
  const origin = originOf(config, request);
  return origin === null ? '' : new URL(origin).host;
}

function toNotice(problem: Problem, run: RunView, asked: string | null): NoticeModel {
  if (problem.code === 'nothing-to-undo') {
    return { title: 'There is nothing to take back', sentences: ['This is the first step of the run.'] };
  }
  if (problem.code === 'example-only') return { title: problem.title, sentences: [problem.message] };
  if (problem.code === 'unknown-answer' || problem.code === 'unknown-note') {
    return {
      title: 'That answer does not belong to this step',
      sentences: ['Nothing was changed. This is what is asked now:'],
    };
  }
  const meanwhile = run.conversation.findLast((turn) => turn.asked === asked);
  return {
    title: 'This run has moved on',
    sentences: [
      asked === null
        ? 'What you sent came from an older page of this run.'
        : `Your answer came from an older page, which asked: “${asked.slice(0, 200)}”`,
      ...(meanwhile === undefined ? [] : [`That has been answered already: “${meanwhile.answered}”.`]),
      'It was not counted and nothing was changed. This is what is asked now:',
    ],
  };
}
