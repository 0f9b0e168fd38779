/** The start page: open a run, or come back to one. */
import type { FastifyInstance, FastifyReply } from 'fastify';
import { isProblemOf } from '../../problems.ts';
import { tidyRunCode } from '../../runs/run-code.ts';
import { longestComplaint, Opening } from '../../runs/schema.ts';
import { newKey, readFields, readFormKey } from '../forms.ts';
import type { PageParts } from '../parts.ts';
import { examplePath, instrumentsPath, paperPath, runPath } from '../paths.ts';
import type { FamilyModel, StartModel } from './models.ts';

/** What somebody typed or ticked so far. */
type Typed = {
  /** The family to be shown open. */
  family: string;
  instrument: string;
  person: string;
  tools: string[];
  complaint: string;
  code: string;
  key: string;
};

type Field = keyof StartModel['fieldProblem'];

/**
 * GET / and what its two forms do: POST /runs opens a run, GET /runs?code= goes to one.
 * @param app a scope that takes forms
 * @param parts renderer, runs and library
 */
export function addStartPage(app: FastifyInstance, parts: PageParts): void {
  const show = (
    reply: FastifyReply,
    status: number,
    typed: Typed,
    problems: Partial<Record<Field, string>>,
  ) => {
    const model = toStartModel(parts, typed, problems);
    const title = model.problems.length === 0 ? 'Start' : 'Something is missing';
    return reply
      .code(status)
      .type('text/html; charset=utf-8')
      .send(parts.renderer.page('start', { title, scripts: ['start.js'] }, model));
  };

  app.get<{ Querystring: { family?: unknown } }>('/', ({ query }, reply) =>
    show(reply, 200, { ...untouched(), family: typeof query.family === 'string' ? query.family : '' }, {}),
  );

  app.post('/runs', async (request, reply) => {
    const fields = readFields(request.body);
    const typed = readTyped(fields);
    const opening = Opening.safeParse({
      instrument: typed.instrument,
      person: typed.person,
      tools: typed.tools,
      ...(typed.complaint.trim() === '' ? {} : { complaint: typed.complaint }),
    });
    if (!opening.success) {
      const wrong = new Set(opening.error.issues.map((issue) => String(issue.path[0])));
      return show(reply, 400, typed, pickSentences(wrong));
    }
    try {
      const { id } = await parts.runs.open(opening.data, readFormKey(fields));
      return reply.redirect(runPath(id), 303);
    } catch (error) {
      if (!isProblemOf(error, 'unknown-instrument')) throw error;
      return show(reply, 404, typed, { instrument: 'Choose one of these instruments.' });
    }
  });

  app.get<{ Querystring: { code?: unknown } }>('/runs', async (request, reply) => {
    const code = readCode(request.query.code);
    const typed = { ...untouched(), code };
    if (code === '') return show(reply, 400, typed, { code: 'Type the code of the run, or paste its link.' });
    try {
      const run = await parts.runs.view(tidyRunCode(code));
      return reply.redirect(runPath(run.id), 303);
    } catch (error) {
      if (!isProblemOf(error, 'unknown-run')) throw error;
      return show(reply, 404, typed, {
        code: 'No run has this code. Look at each letter and figure once more.',
      });
    }
  });
}

const sentences: Record<Exclude<Field, 'code'>, string> = {
  instrument: 'Choose the instrument.',
  person: 'Say who you are: it decides what you will be asked to do.',
  tools: 'Tick only things from this list.',
  complaint: `Say it in at most ${longestComplaint} characters.`,
};

function pickSentences(wrong: ReadonlySet<string>): Partial<Record<Field, string>> {
  return Object.fromEntries(Object.entries(sentences).filter(([field]) => wrong.has(field)));
}

function untouched(): Typed {
  return { family: '', instrument: '', person: '', tools: [], complaint: '', code: '', key: newKey() };
}

function readTyped(fields: URLSearchParams): Typed {
  return {
    family: '',
    instrument: fields.get('instrument') ?? '',
    person: fields.get('person') ?? '',
    tools: fields.getAll('tools'),
    // A form sends the end of a line as two characters; people count one.
    complaint: (fields.get('complaint') ?? '').replaceAll('\r\n', '\n'),
    code: '',
    key: fields.get('key') ?? newKey(),
  };
}

/** The code of a run out of what was typed: the code itself, or the whole link. */
function readCode(given: unknown): string {
  if (typeof given !== 'string') return '';
  const typed = given.trim().slice(0, 200);
  return /\/r\/([^/?#]+)/.exec(typed)?.[1] ?? typed;
}

function toFamilies({ library }: PageParts, { family, instrument }: Typed): FamilyModel[] {
  const families = library.families();
  const isOnly = library.instruments().length === 1;
  return families.map(({ id, name, lookFor, instruments }) => ({
    id,
    name,
    lookFor,
    picture: instruments[Math.floor(instruments.length / 2)]?.picture ?? '',
    path: `/?family=${id}#family-${id}`,
    isOpen: id === family || families.length === 1 || instruments.some((one) => one.id === instrument),
    instruments: instruments.map((one) => ({
      id: one.id,
      label: one.name,
      // Whoever knows the instrument needs its name alone.
      line: id === family ? one.lookFor : null,
      picture: one.picture,
      isChosen: isOnly || one.id === instrument,
    })),
  }));
}

function toStartModel(parts: PageParts, typed: Typed, problems: Partial<Record<Field, string>>): StartModel {
  const { library } = parts;
  const families = toFamilies(parts, typed);
  const anchors: Record<Field, string> = {
    instrument: `family-${families[0]?.id}`,
    person: `person-${library.persons[0]?.id}`,
    tools: `tool-${library.tools[0]?.id}`,
    complaint: 'complaint',
    code: 'code',
  };
  return {
    families,
    persons: library.persons.map(({ id, label, line }) => ({
      id,
      label,
      line,
      isChosen: id === typed.person,
    })),
    tools: library.tools.map(({ id, label, line = null }) => ({
      id,
      label,
      line,
      isChosen: typed.tools.includes(id),
    })),
    complaint: typed.complaint,
    code: typed.code,
    key: typed.key,
    examplePath,
    instrumentsPath,
    paperPath,
    isUntouched: typed.instrument === '' && typed.person === '' && Object.keys(problems).length === 0,
    problems: Object.entries(problems).map(([field, text]) => ({ anchor: anchors[field as Field], text })),
    fieldProblem: { instrument: null, person: null, tools: null, complaint: null, code: null, ...problems },
  };
}
