/** Reads the YAML files of a folder and finds places in them again. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { type Document, isAlias, isMap, isNode, isScalar, isSeq, type Node, parseDocument } from 'yaml';
import type { ContentProblem } from './content-error.ts';
import type { Documents } from './documents.ts';

/** A file as read: its text and what the parser made of it. */
export type YamlFile = { readonly text: string; readonly document: Document };

/** Texts of files by their path inside the folder, with forward slashes, in order of path. */
export type Texts = ReadonlyMap<string, string>;

/** The texts of all YAML files under a folder. */
export function readTexts(folder: string): Texts {
  const names = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.ya?ml$/.test(entry.name))
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .sort();
  return new Map(names.map((name) => [name, readFileSync(join(folder, name), 'utf8')]));
}

/**
 * Parses texts as YAML.
 *
 * @returns the files, their contents as plain JSON, and a problem for each place that is not YAML
 */
export function parseTexts(texts: Texts): {
  files: ReadonlyMap<string, YamlFile>;
  documents: Documents;
  problems: ContentProblem[];
} {
  const files = new Map<string, YamlFile>();
  const documents: Record<string, unknown> = {};
  const problems: ContentProblem[] = [];
  for (const [name, text] of texts) {
    const document = parseDocument(text, { prettyErrors: false });
    files.set(name, { text, document });
    for (const { message, pos } of document.errors) {
      problems.push({
        file: name,
        path: [],
        ...toPosition(text, pos[0]),
        message: `is not YAML here: ${message}`,
      });
    }
    if (document.errors.length === 0) documents[name] = document.toJS();
  }
  return { files, documents, problems };
}

/** The problem with line and column, where its file is known; a path that leads nowhere gives the nearest place above. */
export function placeProblem(problem: ContentProblem, files: ReadonlyMap<string, YamlFile>): ContentProblem {
  const file = files.get(problem.file);
  if (file === undefined || problem.line !== undefined) return problem;
  const offset = findOffset(file.document, problem.path);
  return { ...problem, ...toPosition(file.text, offset) };
}

function findOffset(document: Document, path: readonly (string | number)[]): number {
  let node = document.contents as Node | null;
  let offset = node?.range?.[0] ?? 0;
  for (const step of path) {
    if (isAlias(node)) node = node.resolve(document) ?? null;
    if (isMap(node)) {
      const pair = node.items.find(
        (item) => (isScalar(item.key) ? String(item.key.value) : String(item.key)) === String(step),
      );
      // A list of one may be written without the list, so a place number in a map is the map itself.
      if (pair === undefined && typeof step === 'number') continue;
      if (pair === undefined) return offset;
      offset = (pair.key as Node).range?.[0] ?? offset;
      node = isNode(pair.value) ? pair.value : null;
    } else if (isSeq(node)) {
      const item = node.items[Number(step)];
      if (!isNode(item)) return offset;
      offset = item.range?.[0] ?? offset;
      node = item;
    } else {
      return offset;
    }
  }
  return offset;
}

function toPosition(text: string, offset: number): { line: number; column: number } {
  const before = text.slice(0, offset);
  return { line: before.split('\n').length, column: offset - before.lastIndexOf('\n') };
}
