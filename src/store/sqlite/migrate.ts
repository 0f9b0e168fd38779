import type Database from 'better-sqlite3';
import { StoreTooNew } from '../errors.ts';
import type { Migration } from './migrations/index.ts';

/**
 * Brings a file to the newest layout: each missing step in one transaction, under the write lock, so that a kill leaves a
 * whole layout and two programs that start together run each step once. Gives the names of the steps that it ran.
 * Throws StoreTooNew when the file has a layout that no step here makes.
 */
export function migrate(database: Database.Database, migrations: readonly Migration[]): string[] {
  const known = migrations.at(-1)?.layout ?? 0;
  const ran: string[] = [];
  const runStep = database.transaction((migration: Migration) => {
    // Read under the lock: another program may have run this step while we waited for it.
    if (readLayout(database) >= migration.layout) return;
    database.exec(migration.statements);
    database.pragma(`user_version = ${migration.layout}`);
    ran.push(migration.name);
  });
  for (const migration of migrations) {
    if (readLayout(database) < migration.layout) runStep.immediate(migration);
  }
  const found = readLayout(database);
  if (found > known) throw new StoreTooNew({ found, known }, { path: database.name });
  return ran;
}

/** The layout number that a file says it has; 0 for a new one. */
export function readLayout(database: Database.Database): number {
  return Number(database.pragma('user_version', { simple: true }));
}
