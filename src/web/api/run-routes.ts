/** The API for runs, with the same powers as the pages. */
import { randomUUID } from 'node:crypto';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { isProblemOf, Problem } from '../../problems.ts';
import { AnswerRequest, ChangeRequest, Key, Opening, UndoRequest } from '../../runs/schema.ts';
import { OutcomeView, RunView } from '../../runs/view.ts';
import { WhyView } from '../../runs/why-schema.ts';
import type { ApiParts } from '../parts.ts';
import { refusals } from './replies.ts';

const KeyHeader = z.looseObject({
  'idempotency-key': z
    .string()
    .optional()
    .describe(
      'one key for each answer, kept when the same answer is sent again; may be sent as `key` in the body instead',
    ),
});
const RunAddress = z.object({ id: z.string() });
const bodyKey = { key: Key.optional() };

/**
 * POST /runs, GET /runs/:id, POST /runs/:id/answers, /undo and /changes, GET /runs/:id/outcome and /why.
 * @param scope the scope of the API, under its prefix
 * @param parts the runs
 */
export function addRunRoutes(scope: FastifyInstance, { runs }: ApiParts): void {
  const api = scope.withTypeProvider<ZodTypeProvider>();

  /** Does what changes a run; a step that has moved on is refused together with the run as it stands. */
  const changing = async (id: string, change: () => Promise<unknown>): Promise<RunView> => {
    try {
      await change();
    } catch (error) {
      if (!isProblemOf(error, 'stale-step')) throw error;
      const run = await runs.view(id);
      throw new Problem('stale-step', error.message, {
        extra: { ...error.extra, revision: run.revision, run },
      });
    }
    return runs.view(id);
  };

  api.post(
    '/runs',
    {
      schema: {
        operationId: 'openRun',
        summary: 'Open a run',
        description:
          'The same key gives the same run, however often it is sent. Location says where the run is.',
        headers: KeyHeader,
        body: Opening.extend(bodyKey),
        response: { 201: RunView, ...refusals },
      },
    },
    async (request, reply) => {
      const { key, ...opening } = request.body;
      const { id } = await runs.open(opening, readKey(request, key) ?? randomUUID());
      reply.code(201).header('location', `/api/runs/${encodeURIComponent(id)}`);
      return runs.view(id);
    },
  );

  api.get(
    '/runs/:id',
    {
      schema: {
        operationId: 'showRun',
        summary: 'Show a run: its step of now and the conversation so far',
        params: RunAddress,
        response: { 200: RunView, ...refusals },
      },
    },
    (request) => runs.view(request.params.id),
  );

  api.post(
    '/runs/:id/answers',
    {
      schema: {
        operationId: 'answer',
        summary: 'Answer the step of now',
        description:
          'Needs a key. An answer to a step that has moved on is refused with 409; the document then carries the current revision and the run as it stands.',
        headers: KeyHeader,
        params: RunAddress,
        body: AnswerRequest.extend(bodyKey),
        response: { 200: RunView, ...refusals },
      },
    },
    (request) => {
      const { id } = request.params;
      const answer = { ...request.body, key: requireKey(request, request.body.key) };
      return changing(id, () => runs.answer(id, answer));
    },
  );

  api.post(
    '/runs/:id/undo',
    {
      schema: {
        operationId: 'undo',
        summary: 'Take the last answer back',
        headers: KeyHeader,
        params: RunAddress,
        body: UndoRequest.extend(bodyKey),
        response: { 200: RunView, ...refusals },
      },
    },
    (request) => {
      const { id } = request.params;
      const undo = { ...request.body, key: requireKey(request, request.body.key) };
      return changing(id, () => runs.undo(id, undo));
    },
  );

  api.post(
    '/runs/:id/changes',
    {
      schema: {
        operationId: 'changeAnswer',
        summary: 'Change an earlier answer',
        description: 'The later answers are played again as far as they still fit.',
        headers: KeyHeader,
        params: RunAddress,
        body: ChangeRequest.extend(bodyKey),
        response: { 200: RunView, ...refusals },
      },
    },
    (request) => {
      const { id } = request.params;
      const change = { ...request.body, key: requireKey(request, request.body.key) };
      return changing(id, () => runs.change(id, change));
    },
  );

  api.get(
    '/runs/:id/outcome',
    {
      schema: {
        operationId: 'showOutcome',
        summary: 'Show how a run ended, with its bench ticket',
        params: RunAddress,
        response: { 200: OutcomeView, ...refusals },
      },
    },
    (request) => runs.outcome(request.params.id),
  );

  api.get(
    '/runs/:id/why',
    {
      schema: {
        operationId: 'explainRun',
        summary: 'Say why a run thinks what it thinks',
        description:
          'The explanation; the suspects before and after the last answer; what was heard of each note against what each leading suspect predicts; what further checks would tell.',
        params: RunAddress,
        response: { 200: WhyView, ...refusals },
      },
    },
    (request) => runs.why(request.params.id),
  );
}

/** The key from the header (with or without the quotes of a structured field) or from the body; both must agree. */
function readKey(request: FastifyRequest, inBody: string | undefined): string | undefined {
  const header = request.headers['idempotency-key'];
  if (typeof header !== 'string') return inBody;
  const parsed = Key.safeParse(header.replace(/^"(.*)"$/, '$1'));
  if (!parsed.success) {
    throw new Problem('bad-request', 'The Idempotency-Key header does not fit.', {
      fields: [
        { pointer: '/idempotency-key', detail: parsed.error.issues[0]?.message ?? 'Give another key.' },
      ],
    });
  }
  if (inBody !== undefined && inBody !== parsed.data) {
    throw new Problem(
      'bad-request',
      'The Idempotency-Key header and the key in the body differ. Send one of them.',
      {
        fields: [{ pointer: '/key', detail: 'Leave it out, or send the same as in the header.' }],
      },
    );
  }
  return parsed.data;
}

function requireKey(request: FastifyRequest, inBody: string | undefined): string {
  const key = readKey(request, inBody);
  if (key !== undefined) return key;
  throw new Problem('bad-request', 'The answer needs a key, so that a repeated send counts once.', {
    fields: [
      {
        pointer: '/key',
        detail:
          'Give a key of 8 to 100 characters, new for each answer (a UUID will do), or send the Idempotency-Key header.',
      },
    ],
  });
}
