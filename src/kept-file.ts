/** Files that save work at the next start, and that can be deleted at any time. */
import { mkdirSync, renameSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';

/**
 * Writes such a file so that it is there whole or not at all. A folder that cannot be written is no fault: the next start
 * does the work again.
 */
export function keepFile(path: string, text: string): void {
  const unfinished = `${path}.${process.pid}.part`;
  try {
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(unfinished, text);
    renameSync(unfinished, path);
  } catch {
    // See above.
  }
}
