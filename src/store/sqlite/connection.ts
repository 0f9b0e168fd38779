// Opens the file so that an acknowledged write is on disk, or does not open it at all.
import { closeSync, fsyncSync, mkdirSync, openSync, statSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import Database from 'better-sqlite3';
import { StoreNotDurable } from '../errors.ts';
import { migrate } from './migrate.ts';
import { migrations as allMigrations, type Migration } from './migrations/index.ts';
import { translateError } from './translate-error.ts';

/** Name of the database file in the data directory. */
export const fileName = 'quarter-turn.sqlite';

// PRAGMA synchronous: 0 OFF, 1 NORMAL, 2 FULL, 3 EXTRA.
const full = 2;

/** An open file, where it is, whether it is still there, and the layout steps that opening it ran. */
export type Connection = {
  database: Database.Database;
  path: string;
  isInPlace: () => boolean;
  migrated: string[];
};

/** How to open: milliseconds to wait for another program's lock, and the layout steps (all of them unless given). */
export type ConnectionOptions = { directory: string; busyTimeout: number; migrations?: readonly Migration[] };

/**
 * Opens the database in a directory, making both if needed, brings its layout up to date and proves that its commits are
 * durable. Throws StoreUnavailable, StoreDamaged, StoreTooNew or StoreNotDurable, and leaves nothing open then.
 */
export function openConnection(options: ConnectionOptions): Connection {
  const path = join(resolve(options.directory), fileName);
  let database: Database.Database | undefined;
  try {
    prepareFile(path);
    database = new Database(path, { timeout: options.busyTimeout });
    demandDurability(database, options.busyTimeout);
    const migrated = migrate(database, options.migrations ?? allMigrations);
    // The driver's build drops `synchronous` to NORMAL at the first write to a WAL file unless it was set explicitly, so
    // the setting counts only when read back after a write.
    database.exec(touchReadiness);
    assertDurable(database);
    const inode = statSync(path).ino;
    const isInPlace = () => statSync(path, { throwIfNoEntry: false })?.ino === inode;
    return { database, path, isInPlace, migrated };
  } catch (error) {
    database?.close();
    throw translateError(error, path);
  }
}

/** The write of the readiness check: one row, flipped, so that a page really changes. */
export const touchReadiness = 'UPDATE readiness SET written = 1 - written WHERE only = 1';

/** Milliseconds between two tries at a lock that SQLite itself does not wait for. */
const pause = 10;

/**
 * Has the file write ahead. Two programs that open a new file at the same moment hold a read lock each and both want the
 * write lock; SQLite tells one of them at once that it is busy, whatever its timeout, so the waiting is done here.
 */
function writeAhead(database: Database.Database, busyTimeout: number): void {
  for (let waited = 0; ; waited += pause) {
    try {
      database.pragma('journal_mode = WAL');
      return;
    } catch (error) {
      const isBusy = error instanceof Database.SqliteError && error.code.startsWith('SQLITE_BUSY');
      if (!isBusy || waited >= busyTimeout) throw error;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, pause);
    }
  }
}

/**
 * Sets what durable commits need. The settings hold for this connection only, so every opening sets them.
 *
 * @param busyTimeout milliseconds to wait for another program that is just making the file
 */
export function demandDurability(database: Database.Database, busyTimeout: number): void {
  writeAhead(database, busyTimeout);
  database.pragma('synchronous = FULL');
  // On macOS a plain fsync leaves data in the drive's cache; elsewhere this changes nothing.
  database.pragma('fullfsync = ON');
  database.pragma('checkpoint_fullfsync = ON');
  database.pragma('foreign_keys = ON');
}

/** Throws StoreNotDurable unless the connection writes ahead and syncs at every commit. Call it after a first write. */
export function assertDurable(database: Database.Database): void {
  const demands = [
    { name: 'journal_mode', wanted: 'wal' },
    { name: 'synchronous', wanted: full },
    { name: 'foreign_keys', wanted: 1 },
  ];
  for (const { name, wanted } of demands) {
    const found = database.pragma(name, { simple: true });
    if (found !== wanted) throw new StoreNotDurable({ name, found, wanted }, { path: database.name });
  }
}

/** Makes the directory and the file, for this user alone, and syncs the directories that gained a name. */
function prepareFile(path: string): void {
  const directory = dirname(path);
  const firstMade = mkdirSync(directory, { recursive: true, mode: 0o700 });
  closeSync(openSync(path, 'a', 0o600));
  if (firstMade === undefined) return;
  // SQLite syncs the directory of its file; the directories above it are ours to sync.
  const top = dirname(firstMade);
  for (let place = dirname(directory); place.length >= top.length; place = dirname(place)) {
    syncDirectory(place);
    if (place === dirname(place)) break;
  }
}

function syncDirectory(directory: string): void {
  const descriptor = openSync(directory, 'r');
  try {
    fsyncSync(descriptor);
  } finally {
    closeSync(descriptor);
  }
}
