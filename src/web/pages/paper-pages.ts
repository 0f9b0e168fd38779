/** The paper version: a form that chooses what it is for, and the sheet itself. */
import type { FastifyInstance, FastifyReply } from 'fastify';
import { isProblemOf, Problem } from '../../problems.ts';
import { tidyRunCode } from '../../runs/run-code.ts';
import { Person } from '../../runs/schema.ts';
import {
  letterOf,
  type PaperComplaint,
  PaperRequest,
  type PaperSheet,
  type PaperWay,
} from '../paper-sheet.ts';
import type { PageParts } from '../parts.ts';
import { paperComplaintPath, paperPath, paperSheetPath } from '../paths.ts';
import type { OptionModel } from './models.ts';
import type { PaperComplaintModel, PaperModel, PaperSheetModel } from './paper-models.ts';

type Query = Record<string, string | string[] | undefined>;
type Chosen = { instrument: string; person: string; tools: string[]; failing: string[]; code: string };

const noted = new Set(['unsteady', 'wrong', 'silent']);

/**
 * GET /paper asks for whom, then for which complaint a sheet is made; GET /paper/sheet shows it. A code of a run stands for
 * the notes that failed in it.
 * @param app a scope of pages
 * @param parts renderer, runs and library
 */
export function addPaperPages(app: FastifyInstance, parts: PageParts): void {
  const { library, renderer } = parts;
  const sendHtml = (reply: FastifyReply, status: number, html: string) =>
    reply.code(status).type('text/html; charset=utf-8').send(html);

  /** The page of the two on which something is still to be said. */
  const showForm = async (reply: FastifyReply, status: number, chosen: Chosen, problem: string | null) => {
    const choice = PaperRequest.pick({ instrument: true, person: true, tools: true }).safeParse(pick(chosen));
    const instrument = library.instruments().find(({ id }) => id === chosen.instrument);
    if (!choice.success || instrument === undefined)
      return sendHtml(
        reply,
        status,
        renderer.page('paper', { title: 'On paper' }, toForm(parts, chosen, problem)),
      );
    const complaints = await library.complaints(instrument.id, choice.data.person);
    const model = toComplaints(parts, chosen, { instrument: instrument.name, complaints, problem });
    return sendHtml(reply, status, renderer.page('paper-complaint', { title: 'Which notes fail?' }, model));
  };

  app.get<{ Querystring: Query }>(paperPath, (request, reply) => {
    const chosen = readChosen(request.query);
    // The form always sends the field, empty where nothing was chosen.
    const isMissing = request.query.instrument !== undefined && !isKnown(library, chosen.instrument);
    return isMissing
      ? showForm(reply, 400, chosen, sentences.instrument!)
      : showForm(reply, 200, chosen, null);
  });

  app.get<{ Querystring: Query }>(`${paperPath}/sheet`, async (request, reply) => {
    const chosen = readChosen(request.query);
    try {
      if (chosen.code.trim() !== '') {
        const failing = await failedNotes(parts, chosen.code, chosen.instrument);
        return reply.redirect(paperSheetPath({ ...chosen, failing }), 303);
      }
      const wanted = PaperRequest.safeParse({ ...pick(chosen), failing: chosen.failing });
      if (!wanted.success) {
        const missing = String(wanted.error.issues[0]?.path[0]);
        return showForm(reply, 400, chosen, sentences[missing] ?? sentences.failing!);
      }
      const sheet = await library.paperSheet(wanted.data);
      const title = `${sheet.instrument.name}: ${sheet.complaint}`;
      const head = { title, scripts: ['print.js'], isSheet: true };
      return sendHtml(reply, 200, renderer.page('paper-sheet', head, toSheetModel(parts, sheet, chosen)));
    } catch (error) {
      if (!isProblemOf(error, ...shownOnTheForm)) throw error;
      return showForm(reply, error.status, chosen, error.message);
    }
  });
}

const shownOnTheForm = [
  'unknown-run',
  'unknown-note',
  'unknown-instrument',
  'bad-request',
  'no-paper-version',
] as const;

const sentences: Readonly<Record<string, string>> = {
  instrument: 'Choose the instrument.',
  person: 'Say who works with the sheet: it decides what may be done.',
  tools: 'Tick only things from this list.',
  failing: 'Choose which notes fail, or give the code of a run.',
};

function isKnown(library: PageParts['library'], instrument: string): boolean {
  return library.instruments().some(({ id }) => id === instrument);
}

function pick({ instrument, person, tools }: Chosen): Pick<Chosen, 'instrument' | 'person' | 'tools'> {
  return { instrument, person, tools };
}

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

function toForm({ library }: PageParts, chosen: Chosen, problem: string | null): PaperModel {
  const option = (one: { id: string; label: string; line?: string }, isChosen: boolean): OptionModel => ({
    id: one.id,
    label: one.label,
    line: one.line ?? null,
    isChosen,
  });
  const person = Person.safeParse(chosen.person).data ?? library.persons[0]?.id;
  return {
    formPath: paperPath,
    isInstrumentChosen: isKnown(library, chosen.instrument),
    families: [...Map.groupBy(library.instruments(), ({ familyName }) => familyName)].map(
      ([name, members]) => ({
        name,
        instruments: members.map((one) =>
          option({ id: one.id, label: one.name }, one.id === chosen.instrument),
        ),
      }),
    ),
    persons: library.persons.map((one) => option(one, one.id === person)),
    tools: library.tools.map((one) => option(one, chosen.tools.includes(one.id))),
    problem,
  };
}

function toComplaints(
  { library }: PageParts,
  chosen: Chosen,
  found: { instrument: string; complaints: readonly PaperComplaint[]; problem: string | null },
): PaperComplaintModel {
  return {
    sheetPath: `${paperPath}/sheet`,
    backPath: paperPath,
    instrumentName: found.instrument,
    personLabel: personLabel(library, chosen.person),
    hidden: [
      { name: 'instrument', value: chosen.instrument },
      { name: 'person', value: chosen.person },
      ...chosen.tools.map((value) => ({ name: 'tools', value })),
    ],
    complaints: found.complaints.map(({ failing, words, chance }) => ({
      value: failing.join(' '),
      label: words,
      line: chance,
    })),
    code: chosen.code,
    problem: found.problem,
  };
}

function personLabel({ persons }: PageParts['library'], id: string): string {
  return persons.find((one) => one.id === id)?.label ?? id;
}

function toSheetModel({ library }: PageParts, sheet: PaperSheet, chosen: Chosen): PaperSheetModel {
  const tools = library.tools.filter(({ id }) => chosen.tools.includes(id)).map(({ label }) => label);
  return {
    backPath: paperComplaintPath(chosen),
    typeClass: typeClassOf(sheet.fill),
    sheet,
    personLabel: personLabel(library, sheet.person),
    toolLabels: tools.length === 0 ? 'nothing' : tools.map(lowerFirst).join('; '),
    before: sheet.before.map((box) => ({ ...box, letter: letterOf(box.number).toUpperCase() })),
    endings: sheet.endings.map(({ steps, ...ending }) => ({
      ...ending,
      steps: steps.map(({ number, ask, boxes, ways }) => ({
        letter: letterOf(number),
        ask,
        boxes: Array.from({ length: boxes }, (_, index) => index + 1),
        answers: ways.length === 1 && ways[0]!.number === number + 1 ? [] : byLabel(ways),
      })),
    })),
    edition: sheet.edition.slice(0, 8),
  };
}

/**
 * Larger words take more room both ways, so that the share taken grows with the square of their size; the least is 9 points.
 * A little is left over, because larger blocks leave larger gaps where a column ends.
 */
function typeClassOf(fill: number): string {
  const points = Math.min(11, Math.max(9, Math.floor(9 / Math.sqrt(fill) - 0.3)));
  return `type-${points}`;
}

/** Ways of one answer stand together, as the conditions are tried in order. */
function byLabel(ways: readonly PaperWay[]): PaperSheetModel['endings'][number]['steps'][number]['answers'] {
  const labels = [...new Set(ways.map(({ label }) => label))];
  return labels.map((label) => {
    const own = ways.filter((way) => way.label === label);
    const isPlain = own.length === 1 && own[0]!.when === '';
    return { label, oneWay: isPlain ? own[0]!.words : '', ways: own };
  });
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}
