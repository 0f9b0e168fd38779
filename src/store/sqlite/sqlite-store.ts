import { StoreUnavailable } from '../errors.ts';
import type { Edition, Entry, EntryRange, NewRun, RunFilter, RunStore, StoreLogger } from '../store.ts';
import { type Connection, openConnection } from './connection.ts';
import { GroupCommit } from './group-commit.ts';
import type { Reader } from './reader.ts';
import { translateError } from './translate-error.ts';
import { prepareWrites, type Writes } from './writes.ts';

/** How to open a store in a SQLite file. */
export type SqliteStoreOptions = {
  /** The data directory; made, for this user alone, when it is not there. */
  directory: string;
  logger?: StoreLogger;
  /** Milliseconds to wait for another program's lock; the whole program waits with it. 1000 unless given. */
  busyTimeout?: number;
  /** FOR THE BENCHMARK ONLY: false gives every write a commit of its own, to show what sharing is worth. */
  sharedCommits?: boolean;
};

/**
 * Opens the store of runs in a directory, bringing an older file up to date. Throws StoreUnavailable, StoreDamaged,
 * StoreTooNew, or StoreNotDurable when the database would acknowledge writes before they are on disk.
 */
export function openSqliteStore(options: SqliteStoreOptions): RunStore {
  const connection = openConnection({
    directory: options.directory,
    busyTimeout: options.busyTimeout ?? 1000,
  });
  const { path, migrated } = connection;
  if (migrated.length > 0) options.logger?.info({ path, migrated }, 'brought the file of answers up to date');
  return new SqliteStore(connection, options);
}

class SqliteStore implements RunStore {
  readonly #connection: Connection;
  readonly #logger: StoreLogger | undefined;
  readonly #commits: GroupCommit;
  readonly #writes: Writes;
  #reader: Reader | undefined;

  constructor(connection: Connection, options: SqliteStoreOptions) {
    const { path } = connection;
    this.#connection = connection;
    this.#logger = options.logger;
    this.#writes = prepareWrites(connection.database);
    this.#commits = new GroupCommit(connection.database, {
      share: options.sharedCommits ?? true,
      onFailure: (error, writes) =>
        options.logger?.error(
          { err: error, path, writes },
          'could not commit; these writes were not acknowledged',
        ),
    });
  }

  async createRun(run: NewRun) {
    return this.#commits.enqueue(this.#writes.createRun(run));
  }

  async append(entry: Entry) {
    return this.#commits.enqueue(this.#writes.append(entry));
  }

  async saveEdition(edition: Edition) {
    return this.#commits.enqueue(this.#writes.saveEdition(edition));
  }

  async readRun(id: string) {
    return this.#read((reader) => reader.run(id));
  }

  async readEntries(id: string, range: EntryRange = {}) {
    return this.#read((reader) => reader.entries(id, range));
  }

  async readStateAt(id: string, revision: number) {
    return this.#read((reader) => reader.stateAt(id, revision));
  }

  async readEdition(version: string) {
    return this.#read((reader) => reader.edition(version));
  }

  async listRuns(filter: RunFilter) {
    return this.#read((reader) => reader.runs(filter));
  }

  async check() {
    this.#demandOpen();
    // SQLite would go on writing to a file that nobody can find any more.
    if (!this.#connection.isInPlace()) throw new StoreUnavailable('moved', { path: this.#connection.path });
    await this.#commits.enqueue(this.#writes.touchReadiness());
    await this.#read((reader) => reader.runs({ limit: 1 }));
  }

  async close() {
    const { database, path } = this.#connection;
    if (!database.open) return;
    this.#commits.close();
    try {
      database.pragma('wal_checkpoint(TRUNCATE)');
    } catch (error) {
      // Nothing is lost: the next opening reads the log that stays.
      this.#logger?.warn({ err: error, path }, 'could not fold the log into the file of answers at closing');
    }
    database.close();
  }

  async #read<T>(read: (reader: Reader) => T): Promise<T> {
    try {
      this.#demandOpen();
      return read(this.#reader ?? (await this.#loadReader()));
    } catch (error) {
      throw translateError(error, this.#connection.path);
    }
  }

  /** The query builder takes longer to load than all the rest of the store, and a server should listen before that. */
  async #loadReader(): Promise<Reader> {
    const { Reader } = await import('./reader.ts');
    this.#demandOpen();
    this.#reader ??= new Reader(this.#connection.database);
    return this.#reader;
  }

  #demandOpen(): void {
    const { database, path } = this.#connection;
    if (!database.open) throw new StoreUnavailable('closed', { path });
  }
}
