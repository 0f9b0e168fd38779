/** The content that runs work with, made from plain documents: those just read, or those of an older edition from the store. */
import type { Vocabulary } from '../complaint/index.ts';
import {
  buildDiagnosisModel,
  checkKnowledge,
  type DiagnosisModel,
  type Knowledge,
  KnowledgeError,
} from '../diagnosis/index.ts';
import {
  blanksOf,
  type Caution,
  type Charts,
  compileFlow,
  type Family,
  type Flow,
  FlowError,
  type Job,
  type Outcome,
  type SourceEntry,
  type TradeWord,
  type Urgency,
} from '../flow/index.ts';
import { buildInstrument, type Instrument, MechanismError } from '../mechanism/index.ts';
import { checkLayout, type Layout, LayoutError } from '../picture/index.ts';
import { ContentError, type ContentProblem } from './content-error.ts';
import { checkFamilies, checkSources, checkTreatments, checkVocabulary } from './cross-checks.ts';
import { type Documents, type InstrumentFiles, type ParsedFiles, parseDocuments } from './documents.ts';
import { editionOf } from './edition.ts';
import { holdReady } from './ready-models.ts';

/** One instrument ready for use. Its model, which takes the longest to make, is made when it is first asked for. */
export type InstrumentContent = {
  readonly instrument: Instrument;
  readonly layout: Layout;
  readonly model: DiagnosisModel;
};

/** One edition of everything under flows/. `documents` are what it was made from, for keeping. */
export type Content = {
  readonly edition: string;
  readonly documents: Documents;
  readonly instruments: ReadonlyMap<string, InstrumentContent>;
  readonly flow: Flow;
  readonly outcomes: ReadonlyMap<string, Outcome>;
  readonly jobs: ReadonlyMap<string, Job>;
  readonly urgencies: ReadonlyMap<string, Urgency>;
  readonly cautions: ReadonlyMap<string, Caution>;
  readonly sources: ReadonlyMap<string, SourceEntry>;
  /** By id; none in an edition older than them. */
  readonly families: ReadonlyMap<string, Family>;
  /** The trade's words with their meanings; none in an edition older than them. */
  readonly words: readonly TradeWord[];
  /** The words of complaints; null where an edition has none. */
  readonly vocabulary: Vocabulary | null;
};

/**
 * Makes the content of these documents. Throws ContentError with every problem that can be found at once.
 *
 * @param documents the files of an edition
 * @param isProved the very same documents have been through this before, so that nobody looks again whether they fit each other
 */
export function assembleContent(documents: Documents, isProved = false): Content {
  const { files, problems, placeOf } = parseDocuments(documents);
  const charts = chartsOf(files);
  const sources = new Map<string, SourceEntry>();
  for (const entry of listSources(files)) sources.set(entry.id, entry);
  if (!isProved) {
    problems.push(...checkSources(documents, new Set(sources.keys())));
    if (charts !== undefined) problems.push(...checkTreatments(files, charts));
    problems.push(...checkVocabulary(files), ...checkFamilies(files));
  }
  const flow = charts === undefined ? undefined : attempt(() => compileFlow(charts), 'main.yaml', problems);
  const instruments = new Map<string, InstrumentContent>();
  for (const [id, parts] of files.instruments) {
    const told = (part: keyof InstrumentFiles) => tellingFile(documents, id, part);
    const built = buildInstrumentContent(id, parts, files, { told, problems, isProved });
    if (built !== undefined) instruments.set(id, built);
  }
  if (problems.length > 0 || charts === undefined || flow === undefined)
    throw new ContentError(problems.map(placeOf));
  const byId = <T extends { id: string }>(entries: readonly T[]) =>
    new Map(entries.map((entry) => [entry.id, entry]));
  return {
    edition: editionOf(documents),
    documents,
    instruments,
    flow,
    outcomes: byId(charts.outcomes.outcomes),
    jobs: byId(charts.jobs.jobs),
    urgencies: byId(charts.jobs.urgencies),
    cautions: byId(charts.cautions.cautions),
    sources,
    families: files.families,
    words: files.single['words.yaml']?.words ?? [],
    vocabulary: files.single['complaint.yaml'] ?? null,
  };
}

/** The charts of these files, or undefined where one of them has not passed its schema. */
export function chartsOf({ single, procedures, families }: ParsedFiles): Charts | undefined {
  const {
    'main.yaml': main,
    'outcomes.yaml': outcomes,
    'jobs.yaml': jobs,
    'cautions.yaml': cautions,
  } = single;
  if (main === undefined || outcomes === undefined || jobs === undefined || cautions === undefined)
    return undefined;
  const blanks = blanksOf(families.values());
  return { main, outcomes, jobs, cautions, procedures: [...procedures.values()], blanks };
}

function listSources({ single }: ParsedFiles): SourceEntry[] {
  return [
    ...((single['sources.yaml']?.sources ?? []) as SourceEntry[]),
    ...(single['cautions.yaml']?.sources ?? []),
    ...(single['jobs.yaml']?.sources ?? []),
    ...(single['outcomes.yaml']?.sources ?? []),
  ];
}

/** The file in which somebody would put right what is wrong with a part of an instrument: its own, or that of the variant. */
function tellingFile(documents: Documents, id: string, part: keyof InstrumentFiles): string {
  const variant = `instruments/${id}/variant.yaml`;
  return Object.hasOwn(documents, variant) ? variant : `instruments/${id}/${part}`;
}

function buildInstrumentContent(
  id: string,
  parts: Partial<InstrumentFiles>,
  { single, families }: ParsedFiles,
  {
    told,
    problems,
    isProved,
  }: { told: (part: keyof InstrumentFiles) => string; problems: ContentProblem[]; isProved: boolean },
): InstrumentContent | undefined {
  const {
    'mechanism.yaml': mechanism,
    'fingerings.yaml': fingerings,
    'layout.yaml': layout,
    'frequencies.yaml': frequencies,
  } = parts;
  const { 'faults.yaml': faults, 'checks.yaml': checks, 'people.yaml': people } = single;
  if (mechanism === undefined || fingerings === undefined) return undefined;
  if (mechanism.instrument.id !== id) {
    problems.push({
      file: told('mechanism.yaml'),
      path: ['instrument', 'id'],
      message: `says "${mechanism.instrument.id}"; the id and the folder's name must be the same`,
    });
  }
  const instrument = attempt(() => buildInstrument(mechanism, fingerings), told('mechanism.yaml'), problems);
  if (instrument === undefined || layout === undefined) return undefined;
  if (!isProved) attempt(() => checkLayout(instrument, layout), told('layout.yaml'), problems);
  if (faults === undefined || checks === undefined || people === undefined || frequencies === undefined)
    return undefined;
  const words = families.get(instrument.family)?.words ?? {};
  const knowledge: Knowledge = { faults, checks, people, frequencies, words };
  const prove = () => {
    checkKnowledge(instrument, knowledge);
    return true;
  };
  if (!isProved && attempt(prove, told('frequencies.yaml'), problems) === undefined) return undefined;
  const model = holdReady(() => buildDiagnosisModel(instrument, knowledge));
  return {
    instrument,
    layout,
    get model() {
      return model();
    },
  };
}

/** Of the files that the diagnosis reads, only the frequencies are an instrument's own. */
const isOfInstrument = (file: string): boolean => file === 'frequencies.yaml';

/** Runs one step of the assembly; what it finds wrong joins the problems, with the file it most concerns. */
function attempt<T>(step: () => T, file: string, problems: ContentProblem[]): T | undefined {
  try {
    return step();
  } catch (error) {
    if (error instanceof FlowError || error instanceof LayoutError) {
      problems.push(...error.problems.map((problem) => ({ file, ...problem })));
    } else if (error instanceof MechanismError) {
      problems.push(...error.problems.map((message) => ({ file, path: [], message })));
    } else if (error instanceof KnowledgeError) {
      problems.push(
        ...error.problems.map((problem) => ({
          file: isOfInstrument(problem.file) ? file : problem.file,
          path: [],
          message: `${problem.where}: ${problem.message}`,
        })),
      );
    } else {
      throw error;
    }
    return undefined;
  }
}
