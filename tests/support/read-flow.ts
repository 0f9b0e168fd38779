import { readdirSync, readFileSync } from 'node:fs';
import { parse } from 'yaml';
import { joinPieces } from '../../src/content/index.ts';

const flows = new URL('../../flows/', import.meta.url);

const read = (path: string): unknown => parse(readFileSync(new URL(path, flows), 'utf8'));

/** A file under flows/ as plain data, by its path there: `people.yaml`, or `checks.yaml` with all its pieces. */
export function readFlow(name: string): unknown {
  const folder = name.replace(/\.yaml$/, '');
  const isInPieces = readdirSync(flows).includes(folder);
  const files = isInPieces ? readdirSync(new URL(folder, flows)).map((file) => `${folder}/${file}`) : [name];
  return joinPieces(Object.fromEntries(files.map((file) => [file, read(file)]))).documents[name];
}
