/** Copies of the real files with something wrong in them, and what is said of it. */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ContentError, type ContentProblem } from '../../../src/content/index.ts';

export const flowsFolder = new URL('../../../flows', import.meta.url).pathname;
let folder: string | undefined;

/** The path of a file or folder of this name (and names within it) that goes away with the tests. */
export function folderFor(...names: readonly string[]): string {
  folder ??= mkdtempSync(join(tmpdir(), 'flows-'));
  return join(folder, ...names);
}

/** To be called when the tests of a file are over. */
export function removeFolders(): void {
  if (folder !== undefined) rmSync(folder, { recursive: true, force: true });
  folder = undefined;
}

/** A copy of the real files with changes in the text of some. @throws if a change changes nothing */
export function alteredFolder(name: string, changes: Record<string, (text: string) => string>): string {
  const copy = folderFor(name);
  cpSync(flowsFolder, copy, { recursive: true });
  for (const [file, change] of Object.entries(changes)) {
    const before = readFileSync(join(copy, file), 'utf8');
    const after = change(before);
    if (after === before) throw new Error(`the change to ${file} changes nothing`);
    writeFileSync(join(copy, file), after);
  }
  return copy;
}

/** What a step of reading finds wrong. @throws if it finds nothing */
export function problemsOf(step: () => unknown): readonly ContentProblem[] {
  try {
    step();
  } catch (error) {
    if (error instanceof ContentError) return error.problems;
    throw error;
  }
  throw new Error('nothing was found wrong');
}

/** The line of a text on which something first stands, from 1. */
export const lineOf = (file: string, what: string) =>
  readFileSync(file, 'utf8')
    .split('\n')
    .findIndex((line) => line.includes(what)) + 1;
