/** Which file under flows/ has which shape, and the files parsed by it. */
import type { z } from 'zod';
import { Vocabulary } from '../complaint/index.ts';
import { ChecksFile, FaultsFile, FrequenciesFile, PeopleFile } from '../diagnosis/index.ts';
import {
  CautionsFile,
  type Family,
  FamilyFile,
  JobsFile,
  MainFile,
  OutcomesFile,
  ProcedureFile,
  WordsFile,
} from '../flow/index.ts';
import { FingeringsFile, MechanismFile, SourcesFile } from '../mechanism/index.ts';
import { Layout } from '../picture/index.ts';
import type { ContentProblem } from './content-error.ts';
import { joinPieces, pieceNames } from './pieces.ts';
import { makeVariant } from './variant.ts';
import { VariantFile } from './variant-schema.ts';

/** The files of one edition as plain JSON, by their path under flows/. */
export type Documents = Readonly<Record<string, unknown>>;

/** The files of the whole, each once: as one file, or in pieces that are joined first. */
const single = {
  'main.yaml': MainFile,
  'outcomes.yaml': OutcomesFile,
  'jobs.yaml': JobsFile,
  'cautions.yaml': CautionsFile,
  'faults.yaml': FaultsFile,
  'checks.yaml': ChecksFile,
  'people.yaml': PeopleFile,
  'sources.yaml': SourcesFile,
  'words.yaml': WordsFile,
  'complaint.yaml': Vocabulary,
} as const;

/** Editions older than these files lack them. */
const optional = new Set(['words.yaml', 'complaint.yaml']);

/** The files in the folder of one instrument; a variant has only variant.yaml instead. */
const ofInstrument = {
  'mechanism.yaml': MechanismFile,
  'fingerings.yaml': FingeringsFile,
  'layout.yaml': Layout,
  'frequencies.yaml': FrequenciesFile,
} as const;

const variantFile = 'variant.yaml';

type Parsed<S extends Record<string, z.ZodType>> = { -readonly [K in keyof S]: z.infer<S[K]> };
export type InstrumentFiles = Parsed<typeof ofInstrument>;

/** Every file by its schema. A file that is missing or does not fit has left a problem and is not here. */
export type ParsedFiles = {
  readonly single: Partial<Parsed<typeof single>>;
  readonly procedures: ReadonlyMap<string, z.infer<typeof ProcedureFile>>;
  /** None in an edition of before families. */
  readonly families: ReadonlyMap<string, Family>;
  readonly instruments: ReadonlyMap<string, Partial<InstrumentFiles>>;
};

/**
 * Puts every document through its schema; all problems at once. The scope `charts` leaves out instruments and diagnosis.
 * `placeOf` tells a problem that is found later of the piece in which it stands.
 */
export function parseDocuments(
  written: Documents,
  scope: 'all' | 'charts' = 'all',
): {
  files: ParsedFiles;
  problems: ContentProblem[];
  placeOf: (problem: ContentProblem) => ContentProblem;
} {
  const { documents, problems: unjoined, placeOf } = joinPieces(written);
  const problems: ContentProblem[] = [...unjoined];
  const parsedSingle: Record<string, unknown> = {};
  const procedures = new Map<string, z.infer<typeof ProcedureFile>>();
  const families = new Map<string, Family>();
  const instruments = new Map<string, Partial<InstrumentFiles>>();
  const variants = new Map<string, VariantFile>();
  const charts = ['main.yaml', 'outcomes.yaml', 'jobs.yaml', 'cautions.yaml'];

  for (const [file, document] of Object.entries(documents)) {
    const [, named, id] = /^(procedures|families)\/([^/]+)\.yaml$/.exec(file) ?? [];
    const [, instrument, part] = /^instruments\/([^/]+)\/([^/]+\.yaml)$/.exec(file) ?? [];
    if (named === 'procedures' && id !== undefined) {
      const chart = parseFile(file, ProcedureFile, document, problems);
      if (chart !== undefined && isNamed(file, 'procedure', chart.procedure, problems))
        procedures.set(id, chart);
    } else if (id !== undefined) {
      const family = parseFile(file, FamilyFile, document, problems);
      if (family !== undefined && isNamed(file, 'family', family.family, problems)) families.set(id, family);
    } else if (Object.hasOwn(single, file)) {
      if (scope === 'charts' && !charts.includes(file)) continue;
      const parsed = parseFile(file, single[file as keyof typeof single] as z.ZodType, document, problems);
      if (parsed !== undefined) parsedSingle[file] = parsed;
    } else if (instrument !== undefined && part === variantFile) {
      if (scope === 'charts') continue;
      const variant = parseFile(file, VariantFile, document, problems);
      if (variant !== undefined) variants.set(instrument, variant);
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
  const needed = scope === 'charts' ? charts : Object.keys(single).filter((file) => !optional.has(file));
  for (const file of needed.filter((name) => !Object.hasOwn(documents, name))) {
    problems.push({ file, path: [], message: 'is missing' });
  }
  for (const instrument of instruments.keys()) {
    const missing = Object.keys(ofInstrument)
      .map((part) => `instruments/${instrument}/${part}`)
      .filter((name) => !Object.hasOwn(documents, name));
    for (const file of missing) problems.push({ file, path: [], message: 'is missing' });
  }
  addVariants(variants, instruments, problems);
  return {
    files: { single: parsedSingle as ParsedFiles['single'], procedures, families, instruments },
    problems: problems.map(placeOf),
    placeOf,
  };
}

/** Whether a file has the name that it says; reports it otherwise. */
function isNamed(file: string, key: string, says: string, problems: ContentProblem[]): boolean {
  if (file.endsWith(`/${says}.yaml`)) return true;
  const message = `says it is "${says}"; the id and the file name must be the same`;
  problems.push({ file, path: [key], message });
  return false;
}

/** Adds the instruments that are told by what differs from another one, each after the one that it is told from. */
function addVariants(
  variants: ReadonlyMap<string, VariantFile>,
  instruments: Map<string, Partial<InstrumentFiles>>,
  problems: ContentProblem[],
): void {
  const waiting = new Map(variants);
  for (const id of variants.keys()) {
    if (!instruments.has(id)) continue;
    const message = 'stands beside files of the instrument itself; keep one way of telling it';
    problems.push({ file: `instruments/${id}/${variantFile}`, path: [], message });
    waiting.delete(id);
  }
  for (let added = true; added; ) {
    added = false;
    for (const [id, variant] of waiting) {
      const base = instruments.get(variant.variantOf);
      if (base === undefined) continue;
      waiting.delete(id);
      added = true;
      instruments.set(id, isWhole(base) ? filesOfVariant(id, base, variant, problems) : {});
    }
  }
  for (const [id, variant] of waiting) {
    problems.push({
      file: `instruments/${id}/${variantFile}`,
      path: ['variantOf'],
      message: variants.has(variant.variantOf)
        ? `is told from "${variant.variantOf}", which is told from this one in turn; one of them must be told in full`
        : `is told from "${variant.variantOf}"; there are ${[...instruments.keys()].join(', ')}`,
    });
  }
}

function filesOfVariant(
  id: string,
  base: InstrumentFiles,
  variant: VariantFile,
  problems: ContentProblem[],
): Partial<InstrumentFiles> {
  const file = `instruments/${id}/${variantFile}`;
  const made = makeVariant(base, variant, file);
  problems.push(...made.problems);
  const parts: Record<string, unknown> = {};
  for (const [part, schema] of Object.entries(ofInstrument)) {
    const own: ContentProblem[] = [];
    const parsed = parseFile<unknown>(file, schema, made.files[part as keyof InstrumentFiles], own);
    for (const { path, message } of own)
      problems.push({ file, path: [], message: `makes a ${part} in which ${path.join(' > ')} ${message}` });
    if (parsed !== undefined) parts[part] = parsed;
  }
  return parts as Partial<InstrumentFiles>;
}

function isWhole(files: Partial<InstrumentFiles>): files is InstrumentFiles {
  return Object.keys(ofInstrument).every((part) => Object.hasOwn(files, part));
}

function listNames(): string {
  return [
    ...Object.keys(single),
    ...pieceNames,
    'procedures/<id>.yaml',
    'families/<id>.yaml',
    ...[...Object.keys(ofInstrument), variantFile].map((part) => `instruments/<id>/${part}`),
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
