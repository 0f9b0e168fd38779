/** Which file under flows/ has which shape, and the files parsed by it. */
import type { z } from 'zod';
import { ChecksFile, FaultsFile, FrequenciesFile, PeopleFile } from '../diagnosis/index.ts';
import { CautionsFile, JobsFile, MainFile, OutcomesFile, ProcedureFile } from '../flow/index.ts';
import { FingeringsFile, MechanismFile, SourcesFile } from '../mechanism/index.ts';
import { Layout } from '../picture/index.ts';
import type { ContentProblem } from './content-error.ts';

/** The files of one edition as plain JSON, by their path under flows/. */
export type Documents = Readonly<Record<string, unknown>>;

/** The files of the whole, each at most once. */
const single = {
  'main.yaml': MainFile,
  'outcomes.yaml': OutcomesFile,
  'jobs.yaml': JobsFile,
  'cautions.yaml': CautionsFile,
  'faults.yaml': FaultsFile,
  'checks.yaml': ChecksFile,
  'people.yaml': PeopleFile,
  'sources.yaml': SourcesFile,
} as const;

/** The files in the folder of one instrument. */
const ofInstrument = {
  'mechanism.yaml': MechanismFile,
  'fingerings.yaml': FingeringsFile,
  'layout.yaml': Layout,
  'frequencies.yaml': FrequenciesFile,
} as const;

type Parsed<S extends Record<string, z.ZodType>> = { -readonly [K in keyof S]: z.infer<S[K]> };
export type InstrumentFiles = Parsed<typeof ofInstrument>;

/** Every file by its schema. A file that is missing or does not fit has left a problem and is not here. */
export type ParsedFiles = {
  readonly single: Partial<Parsed<typeof single>>;
  readonly procedures: ReadonlyMap<string, z.infer<typeof ProcedureFile>>;
  readonly instruments: ReadonlyMap<string, Partial<InstrumentFiles>>;
};

/** Puts every document through its schema; all problems at once. `onlyCharts` leaves out instruments and diagnosis. */
export function parseDocuments(
  documents: Documents,
  scope: 'all' | 'charts' = 'all',
): { files: ParsedFiles; problems: ContentProblem[] } {
  const problems: ContentProblem[] = [];
  const parsedSingle: Record<string, unknown> = {};
  const procedures = new Map<string, z.infer<typeof ProcedureFile>>();
  const instruments = new Map<string, Partial<InstrumentFiles>>();
  const charts = ['main.yaml', 'outcomes.yaml', 'jobs.yaml', 'cautions.yaml'];

  for (const [file, document] of Object.entries(documents)) {
    const [, procedure] = /^procedures\/([^/]+)\.yaml$/.exec(file) ?? [];
    const [, instrument, part] = /^instruments\/([^/]+)\/([^/]+\.yaml)$/.exec(file) ?? [];
    if (procedure !== undefined) {
      const chart = parseFile(file, ProcedureFile, document, problems);
      if (chart === undefined) continue;
      if (chart.procedure === procedure) procedures.set(procedure, chart);
      else
        problems.push({
          file,
          path: ['procedure'],
          message: `says it is "${chart.procedure}"; the id and the file name must be the same`,
        });
    } else if (Object.hasOwn(single, file)) {
      if (scope === 'charts' && !charts.includes(file)) continue;
      const parsed = parseFile(file, single[file as keyof typeof single] as z.ZodType, document, problems);
      if (parsed !== undefined) parsedSingle[file] = parsed;
    } else if (instrument !== undefined && Object.hasOwn(ofInstrument, part!)) {
      if (scope === 'charts') continue;
      const parsed = parseFile(
        file,
        ofInstrument[part as keyof typeof ofInstrument] as z.ZodType,
        document,
        problems,
      );
      const known = instruments.get(instrument) ?? {};
      instruments.set(instrument, parsed === undefined ? known : { ...known, [part!]: parsed });
    } else {
      problems.push({
        file,
        path: [],
        message: `is read by no part of the program; the names are ${listNames()}`,
      });
    }
  }
  const needed = scope === 'charts' ? charts : Object.keys(single);
  for (const file of needed.filter((name) => !Object.hasOwn(documents, name))) {
    problems.push({ file, path: [], message: 'is missing' });
  }
  for (const instrument of instruments.keys()) {
    const missing = Object.keys(ofInstrument)
      .map((part) => `instruments/${instrument}/${part}`)
      .filter((name) => !Object.hasOwn(documents, name));
    for (const file of missing) problems.push({ file, path: [], message: 'is missing' });
  }
  return { files: { single: parsedSingle as ParsedFiles['single'], procedures, instruments }, problems };
}

function listNames(): string {
  return [
    ...Object.keys(single),
    'procedures/<id>.yaml',
    ...Object.keys(ofInstrument).map((part) => `instruments/<id>/${part}`),
  ].join(', ');
}

function parseFile<T>(
  file: string,
  schema: z.ZodType<T>,
  document: unknown,
  problems: ContentProblem[],
): T | undefined {
  // Each file is checked once a start; making compiled validators for that takes longer than doing without (measured: 119 and 70 ms).
  const result = schema.safeParse(document, { jitless: true });
  if (result.success) return result.data;
  for (const issue of result.error.issues) {
    const path = issue.path.map((step) => (typeof step === 'number' ? step : String(step)));
    const state = path[0] === 'states' && path.length > 1 ? String(path[1]) : null;
    problems.push({ file, path, state, message: tellIssue(issue) });
  }
  return undefined;
}

function tellIssue(issue: z.core.$ZodIssue): string {
  if (issue.code === 'unrecognized_keys')
    return `has ${issue.keys.map((key) => `"${key}"`).join(', ')}, which is not known here; check the spelling`;
  if (issue.code === 'invalid_value')
    return `must be one of ${issue.values.map((value) => String(value)).join(', ')}`;
  if (issue.code === 'invalid_type')
    return `must be ${issue.expected}${issue.input === undefined ? ' and is missing' : ''}`;
  return issue.message;
}
