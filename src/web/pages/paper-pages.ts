/** The paper version: a form that chooses what it is for, and the sheet itself. */
import type { FastifyInstance, FastifyReply } from 'fastify';
import { isProblemOf, Problem } from '../../problems.ts';
import { tidyRunCode } from '../../runs/run-code.ts';
import { Person } from '../../runs/schema.ts';
import { PaperRequest, type PaperSheet } from '../paper-sheet.ts';
import type { PageParts } from '../parts.ts';
import { paperPath, paperSheetPath } from '../paths.ts';
import type { OptionModel, PaperModel, PaperSheetModel } from './models.ts';

type Query = Record<string, string | string[] | undefined>;
type Chosen = { instrument: string; person: string; tools: string[]; failing: string[]; code: string };

const noted = new Set(['unsteady', 'wrong', 'silent']);

/**
 * GET /paper asks what the sheet is for; GET /paper/sheet shows it. A code of a run stands for the notes that failed in it.
 * @param app a scope of pages
 * @param parts renderer, runs and library
 */
export function addPaperPages(app: FastifyInstance, parts: PageParts): void {
  const showForm = async (reply: FastifyReply, status: number, chosen: Chosen, problem: string | null) => {
    const form = await toForm(parts, chosen, problem);
    return reply
      .code(status)
      .type('text/html; charset=utf-8')
      .send(parts.renderer.page('paper', { title: 'On paper' }, form));
  };

  app.get<{ Querystring: Query }>(paperPath, (request, reply) =>
    showForm(reply, 200, readChosen(request.query), null),
  );

  app.get<{ Querystring: Query }>(`${paperPath}/sheet`, async (request, reply) => {
    const chosen = readChosen(request.query);
    try {
      const { code, ...wish } = chosen;
      if (code.trim() !== '') {
        const failing = await failedNotes(parts, code, wish.instrument);
        return reply.redirect(paperSheetPath({ ...chosen, failing }), 303);
      }
      const wanted = PaperRequest.safeParse(wish);
      const missing = wanted.success ? null : String(wanted.error.issues[0]?.path[0]);
      if (!wanted.success)
        return showForm(reply, 400, chosen, sentences[missing ?? ''] ?? sentences.failing!);
      const sheet = await parts.library.paperSheet(wanted.data);
      const html = parts.renderer.page(
        'paper-sheet',
        { title: `${sheet.instrument.name}: ${sheet.complaint}`, scripts: ['print.js'], isSheet: true },
        toSheetModel(parts, sheet, chosen),
      );
      return reply.type('text/html; charset=utf-8').send(html);
    } catch (error) {
      if (!isProblemOf(error, 'unknown-run', 'unknown-note', 'unknown-instrument', 'bad-request'))
        throw error;
      return showForm(reply, error.status, chosen, error.message);
    }
  });
}

const sentences: Readonly<Record<string, string>> = {
  instrument: 'Choose the instrument.',
  person: 'Say who works with the sheet: it decides what may be done.',
  tools: 'Tick only things from this list.',
  failing: 'Choose which notes fail, or give the code of a run.',
};

function readChosen(query: Query): Chosen {
  const all = (name: string): string[] => [query[name] ?? []].flat();
  return {
    instrument: all('instrument')[0] ?? '',
    person: all('person')[0] ?? '',
    tools: all('tools'),
    failing: all('failing').flatMap((list) => list.split(/\s+/).filter((id) => id !== '')),
    code: all('code')[0] ?? '',
  };
}

/** The fingerings that failed in a run. */
async function failedNotes({ runs }: PageParts, code: string, instrument: string): Promise<string[]> {
  const why = await runs.why(tidyRunCode(code.slice(0, 200)));
  if (instrument !== '' && why.instrument.id !== instrument)
    throw new Problem('bad-request', `That run is about another instrument: ${why.instrument.name}.`);
  const failed = why.pattern.notes.filter(({ heard }) => noted.has(heard));
  if (failed.length === 0)
    throw new Problem(
      'bad-request',
      'No note has failed in that run yet, so it has no complaint to work out.',
    );
  return failed.map(({ fingering }) => fingering);
}

async function toForm({ library }: PageParts, chosen: Chosen, problem: string | null): Promise<PaperModel> {
  const instruments = library.instruments();
  const known = instruments.find(({ id }) => id === chosen.instrument) ?? instruments[0];
  const person = Person.safeParse(chosen.person).data ?? 'director';
  const option = (
    { id, label, line }: { id: string; label: string; line?: string },
    isChosen: boolean,
  ): OptionModel => ({
    id,
    label,
    line: line ?? null,
    isChosen,
  });
  const picked = chosen.failing.toSorted().join(' ');
  return {
    sheetPath: `${paperPath}/sheet`,
    instruments: instruments.map(({ id, name }) => option({ id, label: name }, id === known?.id)),
    persons: library.persons.map((one) => option(one, one.id === person)),
    tools: library.tools.map((one) => option(one, chosen.tools.includes(one.id))),
    complaints:
      known === undefined
        ? []
        : (await library.complaints(known.id, person)).map(({ failing, words, chance }, index) => ({
            id: `complaint-${index + 1}`,
            value: failing.join(' '),
            label: words,
            line: `${chance} single faults show in just these notes`,
            isChosen: failing.toSorted().join(' ') === picked,
          })),
    code: chosen.code,
    problem,
  };
}

function toSheetModel({ library }: PageParts, sheet: PaperSheet, chosen: Chosen): PaperSheetModel {
  const tools = library.tools.filter(({ id }) => chosen.tools.includes(id)).map(({ label }) => label);
  return {
    backPath: paperSheetPath(chosen).replace('/sheet?', '?'),
    sheet,
    personLabel: library.persons.find(({ id }) => id === sheet.person)?.label ?? sheet.person,
    toolLabels: tools.length === 0 ? 'nothing' : tools.join('; '),
    endings: sheet.endings.map(({ steps, ...ending }) => ({
      ...ending,
      steps: steps.map(({ boxes, ...step }) => ({
        ...step,
        letter: String.fromCharCode(96 + step.number),
        boxes: Array.from({ length: boxes }, (_, index) => index + 1),
      })),
    })),
  };
}
