/** Reads flows/ from the disk. */
import { type Charts, compileFlow, type Flow, FlowError } from '../flow/index.ts';
import { assembleContent, type Content, chartsOf } from './assemble.ts';
import { ContentError, type ContentProblem } from './content-error.ts';
import { parseDocuments } from './documents.ts';
import { keepParsedCopy, readParsedCopy } from './parsed-copy.ts';
import { joinPieces } from './pieces.ts';
import { findUnplainTexts } from './plain-words.ts';
import { parseTexts, placeProblem, readTexts, type Texts, type YamlFile } from './yaml-files.ts';

/**
 * The content of a folder.
 *
 * @param folder path of the folder, normally `flows`
 * @param options `parsedCopy`: path of a file in which the parsed files are kept for a quicker start
 * @throws ContentError with every problem, each with file, line and column
 */
export function loadContent(folder: string, options: { parsedCopy?: string } = {}): Content {
  const texts = readTexts(folder);
  const { parsedCopy } = options;
  const kept = parsedCopy === undefined ? undefined : assembleCopy(parsedCopy, texts);
  if (kept !== undefined) return kept;
  const { files, documents, problems } = parseTexts(texts);
  if (problems.length > 0) throw new ContentError(problems);
  const content = withPlaces(files, () => assembleContent(documents));
  if (parsedCopy !== undefined) keepParsedCopy(parsedCopy, texts, content);
  return content;
}

/** Only the charts of a folder and their flow, without instruments and diagnosis. Throws ContentError as `loadContent`. */
export function loadFlow(folder: string): { charts: Charts; flow: Flow } {
  const { files, documents, problems } = parseTexts(readTexts(folder));
  if (problems.length > 0) throw new ContentError(problems);
  return withPlaces(files, () => {
    const parsed = parseDocuments(documents, 'charts');
    const charts = chartsOf(parsed.files);
    if (charts === undefined || parsed.problems.length > 0) throw new ContentError(parsed.problems);
    return { charts, flow: compile(charts, parsed.placeOf) };
  });
}

function compile(charts: Charts, placeOf: (problem: ContentProblem) => ContentProblem): Flow {
  try {
    return compileFlow(charts);
  } catch (error) {
    if (!(error instanceof FlowError)) throw error;
    throw new ContentError(error.problems.map(placeOf));
  }
}

/**
 * Demands what `loadContent` forgives for the sake of older editions: plain words for each step of the files of today.
 *
 * @throws ContentError with every text that is missing, each with file and line
 */
export function demandPlainWords(folder: string): void {
  const { files, documents } = parseTexts(readTexts(folder));
  const joined = joinPieces(documents);
  const problems = findUnplainTexts(joined.documents).map(joined.placeOf);
  if (problems.length > 0) throw new ContentError(problems.map((problem) => placeProblem(problem, files)));
}

/** The content from a kept copy. A copy that no longer fits or is not whole is passed over; its problems have no lines. */
function assembleCopy(path: string, texts: Texts): Content | undefined {
  const copy = readParsedCopy(path, texts);
  if (copy === undefined) return undefined;
  try {
    const content = assembleContent(copy.documents, true);
    return content.edition === copy.edition ? content : undefined;
  } catch (error) {
    if (error instanceof ContentError) return undefined;
    throw error;
  }
}

function withPlaces<T>(files: ReadonlyMap<string, YamlFile>, step: () => T): T {
  try {
    return step();
  } catch (error) {
    if (!(error instanceof ContentError)) throw error;
    throw new ContentError(error.problems.map((problem) => placeProblem(problem, files)));
  }
}
