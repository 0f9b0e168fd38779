/**
 * A copy of the parsed files, kept beside the data so that the next start need not parse YAML again (measured: some 200 kB
 * of YAML take 0.3 to 0.5 s of a start, reading the copy some milliseconds). It is only ever a copy: it is used when it was
 * made from exactly these texts and is whole, and can be deleted at any time.
 */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { z } from 'zod';
import { keepFile } from '../kept-file.ts';
import type { Documents } from './documents.ts';
import type { Texts } from './yaml-files.ts';

const Copy = z.strictObject({
  madeFrom: z.string(),
  edition: z.string(),
  documents: z.record(z.string(), z.unknown()),
});

/** What a copy holds: the documents and the edition that they must give when they are whole. */
export type ParsedCopy = { readonly documents: Documents; readonly edition: string };

/** The copy at this path if it was made from these texts, else undefined (also when it cannot be read). */
export function readParsedCopy(path: string, texts: Texts): ParsedCopy | undefined {
  try {
    const copy = Copy.parse(JSON.parse(readFileSync(path, 'utf8')));
    return copy.madeFrom === fingerprint(texts) ? copy : undefined;
  } catch {
    return undefined;
  }
}

/** Keeps a copy for the next start, where the folder can be written. */
export function keepParsedCopy(path: string, texts: Texts, { documents, edition }: ParsedCopy): void {
  keepFile(path, JSON.stringify({ madeFrom: fingerprint(texts), edition, documents }));
}

function fingerprint(texts: Texts): string {
  const hash = createHash('sha256');
  for (const [name, text] of texts) hash.update(`${name}\n${Buffer.byteLength(text)}\n`).update(text);
  return hash.digest('hex');
}
