/** The API for what is known: instruments, and diagnoses that keep nothing. */
import type { FastifyInstance } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { Person } from '../../runs/schema.ts';
import { InstrumentDetail } from '../instrument-schema.ts';
import { DiagnosisRequest, DiagnosisView, InstrumentSummary } from '../library.ts';
import { PaperComplaint, PaperRequest, PaperSheet } from '../paper-sheet.ts';
import type { ApiParts } from '../parts.ts';
import { refusals } from './replies.ts';

/**
 * GET /instruments, /instruments/:id and /instruments/:id/complaints; POST /diagnoses and /paper-sheets.
 * @param scope the scope of the API, under its prefix
 * @param parts the library
 */
export function addContentRoutes(scope: FastifyInstance, { library }: ApiParts): void {
  const api = scope.withTypeProvider<ZodTypeProvider>();

  api.get(
    '/instruments',
    {
      schema: {
        operationId: 'listInstruments',
        summary: 'List the instruments',
        response: { 200: z.object({ instruments: z.array(InstrumentSummary) }), ...refusals },
      },
    },
    () => ({ instruments: [...library.instruments()] }),
  );

  api.get(
    '/instruments/:id',
    {
      schema: {
        operationId: 'showInstrument',
        summary:
          'Show one instrument in full: parts, links, faults with the notes they take, fingerings, sources',
        params: z.object({ id: z.string() }),
        response: { 200: InstrumentDetail, ...refusals },
      },
    },
    (request) => library.instrument(request.params.id),
  );

  api.post(
    '/diagnoses',
    {
      schema: {
        operationId: 'diagnose',
        summary: 'Say what some findings point to',
        description:
          'Stateless: nothing is kept. Notes are written pitch; enharmonic spellings are understood. The suspects come most probable first and sum with the rest to 1. A complaint in words comes back as proposals, to be confirmed and then sent as findings.',
        body: DiagnosisRequest,
        response: { 200: DiagnosisView, ...refusals },
      },
    },
    (request) => library.diagnose(request.body),
  );

  api.get(
    '/instruments/:id/complaints',
    {
      schema: {
        operationId: 'listComplaints',
        summary: 'List the usual complaints of an instrument: which notes fail together',
        description: 'Worked out from every fault of the instrument, the most frequent first.',
        params: z.object({ id: z.string() }),
        querystring: z.strictObject({ person: Person.default('director') }),
        response: { 200: z.object({ complaints: z.array(PaperComplaint) }), ...refusals },
      },
    },
    async (request) => ({
      complaints: [...(await library.complaints(request.params.id, request.query.person))],
    }),
  );

  api.post(
    '/paper-sheets',
    {
      schema: {
        operationId: 'makePaperSheet',
        summary: 'Make the paper version of the flow for one complaint',
        description:
          'Numbered questions and endings on at most two pages, worked out from what the diagnosis would ask and do. Nothing is kept of it; it takes a second or two.',
        body: PaperRequest,
        response: { 200: PaperSheet, ...refusals },
      },
    },
    (request) => library.paperSheet(request.body),
  );
}
