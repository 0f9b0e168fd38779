/**
 * The engraved notes, kept beside the data so that the next start need not engrave again. It is only ever a copy: it is
 * used when it was made by exactly this drawing code and this engraver, and can be deleted at any time.
 */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { z } from 'zod';
import { keepFile } from '../kept-file.ts';

const Kept = z.strictObject({
  madeBy: z.string(),
  staves: z.record(z.string(), z.string().startsWith('<svg')),
});

/** All that decides how an engraved note looks: our own files, and the version of the engraver. */
const makers = ['clef.ts', 'words.ts', 'score.ts', 'staff-picture.ts', 'engrave.ts'].map(
  (file) => new URL(file, import.meta.url),
);
const packageFile = new URL('../../package.json', import.meta.url);

/** The pictures kept at this path, by clef and note; none where they were made otherwise or cannot be read. */
export function readKeptStaves(path: string): Map<string, string> {
  try {
    const kept = Kept.parse(JSON.parse(readFileSync(path, 'utf8')));
    return new Map(kept.madeBy === fingerprint() ? Object.entries(kept.staves) : []);
  } catch {
    return new Map();
  }
}

/** Keeps pictures for the next start, where the folder can be written. */
export function keepStaves(path: string, staves: ReadonlyMap<string, string>): void {
  keepFile(path, JSON.stringify({ madeBy: fingerprint(), staves: Object.fromEntries(staves) }));
}

function fingerprint(): string {
  const hash = createHash('sha256');
  for (const file of makers) hash.update(readFileSync(file));
  const { dependencies } = JSON.parse(readFileSync(packageFile, 'utf8')) as {
    dependencies: Record<string, string>;
  };
  return hash.update(dependencies.verovio ?? '').digest('hex');
}
