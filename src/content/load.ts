/** Reads flows/ from the disk. */
import { type Charts, compileFlow, type Flow, FlowError } from '../flow/index.ts';
import { assembleContent, type Content, chartsOf } from './assemble.ts';
import { ContentError } from './content-error.ts';
import { parseDocuments } from './documents.ts';
import { placeProblem, readYamlFiles, type YamlFile } from './yaml-files.ts';

/**
 * The content of a folder.
 *
 * @param folder path of the folder, normally `flows`
 * @throws ContentError with every problem, each with file, line and column
 */
export function loadContent(folder: string): Content {
  const { files, documents, problems } = readYamlFiles(folder);
  if (problems.length > 0) throw new ContentError(problems);
  return withPlaces(files, () => assembleContent(documents));
}

/** Only the charts of a folder and their flow, without instruments and diagnosis. Throws ContentError as `loadContent`. */
export function loadFlow(folder: string): { charts: Charts; flow: Flow } {
  const { files, documents, problems } = readYamlFiles(folder);
  if (problems.length > 0) throw new ContentError(problems);
  return withPlaces(files, () => {
    const parsed = parseDocuments(documents, 'charts');
    const charts = chartsOf(parsed.files);
    if (charts === undefined || parsed.problems.length > 0) throw new ContentError(parsed.problems);
    return { charts, flow: compileFlow(charts) };
  });
}

function withPlaces<T>(files: ReadonlyMap<string, YamlFile>, step: () => T): T {
  try {
    return step();
  } catch (error) {
    if (!(error instanceof ContentError || error instanceof FlowError)) throw error;
    throw new ContentError(error.problems.map((problem) => placeProblem(problem, files)));
  }
}
