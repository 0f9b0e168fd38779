import { copyFileSync, existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { fileName } from '../../../src/store/sqlite/connection.ts';

/** A new directory that is gone when the test is over. */
export function temporaryDirectory(): string {
  const directory = mkdtempSync(join(tmpdir(), 'quarter-turn-test-'));
  onTestFinished(() => rmSync(directory, { recursive: true, force: true }));
  return directory;
}

/** Where the database of a data directory is. */
export function databasePath(directory: string): string {
  return join(directory, fileName);
}

/** Copies the database and its log as they are on disk at this moment: what a machine that lost power would find. */
export function copyStore(from: string, to: string): void {
  for (const ending of ['', '-wal']) {
    const source = databasePath(from) + ending;
    if (existsSync(source)) copyFileSync(source, databasePath(to) + ending);
  }
}
