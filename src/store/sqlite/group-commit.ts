import type Database from 'better-sqlite3';
import { StoreError, StoreUnavailable } from '../errors.ts';
import { translateError } from './translate-error.ts';

type Waiting = { write: () => unknown; resolve: (value: unknown) => void; reject: (error: unknown) => void };
type Settlement = { waiting: Waiting } & ({ value: unknown } | { error: unknown });

/** `share` false gives every write a commit of its own; `onFailure` hears of groups that could not be committed. */
export type GroupCommitOptions = { share: boolean; onFailure: (error: unknown, writes: number) => void };

/**
 * Writes that arrive in one turn of the event loop share one transaction, and so one sync of the disk: the sync is nearly
 * all that a durable commit costs. Each promise settles only after the COMMIT. A savepoint around each write keeps a
 * refused one from its neighbours; a failed COMMIT fails them all, since none of them is on disk.
 */
export class GroupCommit {
  readonly #database: Database.Database;
  readonly #options: GroupCommitOptions;
  readonly #statements: Record<
    'begin' | 'commit' | 'rollback' | 'mark' | 'release' | 'undo',
    Database.Statement
  >;
  #waiting: Waiting[] = [];
  #isClosed = false;

  constructor(database: Database.Database, options: GroupCommitOptions) {
    this.#database = database;
    this.#options = options;
    this.#statements = {
      begin: database.prepare('BEGIN IMMEDIATE'),
      commit: database.prepare('COMMIT'),
      rollback: database.prepare('ROLLBACK'),
      mark: database.prepare('SAVEPOINT one_write'),
      release: database.prepare('RELEASE one_write'),
      undo: database.prepare('ROLLBACK TO one_write'),
    };
  }

  /**
   * Puts a synchronous write into the group of this turn. Resolves with what the write returned, once that is on disk;
   * rejects with what it threw, or with StoreUnavailable when the group could not be committed.
   */
  enqueue<T>(write: () => T): Promise<T> {
    if (this.#isClosed) return Promise.reject(new StoreUnavailable('closed', { path: this.#database.name }));
    return new Promise<T>((resolve, reject) => {
      if (this.#waiting.length === 0) setImmediate(() => this.#flush());
      this.#waiting.push({ write, resolve: resolve as (value: unknown) => void, reject });
    });
  }

  /** Commits what waits, and takes no more. */
  close(): void {
    this.#isClosed = true;
    this.#flush();
  }

  #flush(): void {
    const group = this.#waiting;
    this.#waiting = [];
    if (group.length === 0) return;
    if (this.#options.share) this.#commit(group);
    else for (const waiting of group) this.#commit([waiting]);
  }

  #commit(group: readonly Waiting[]): void {
    let settlements: Settlement[];
    try {
      this.#statements.begin.run();
      settlements = group.map((waiting) => this.#perform(waiting));
      this.#statements.commit.run();
    } catch (error) {
      this.#abandon(group, error);
      return;
    }
    for (const settlement of settlements) {
      if ('error' in settlement) settlement.waiting.reject(settlement.error);
      else settlement.waiting.resolve(settlement.value);
    }
  }

  #perform(waiting: Waiting): Settlement {
    this.#statements.mark.run();
    try {
      const value = waiting.write();
      this.#statements.release.run();
      return { waiting, value };
    } catch (error) {
      // Some disk errors make SQLite roll the whole transaction back: then the neighbours are gone too.
      if (!this.#database.inTransaction) throw error;
      this.#statements.undo.run();
      this.#statements.release.run();
      return { waiting, error: translateError(error, this.#database.name) };
    }
  }

  #abandon(group: readonly Waiting[], cause: unknown): void {
    try {
      if (this.#database.inTransaction) this.#statements.rollback.run();
    } catch (rollbackError) {
      this.#options.onFailure(rollbackError, 0);
    }
    const path = this.#database.name;
    const translated = translateError(cause, path);
    const error =
      translated instanceof StoreError ? translated : new StoreUnavailable('disk-error', { path, cause });
    this.#options.onFailure(error, group.length);
    for (const waiting of group) waiting.reject(error);
  }
}
