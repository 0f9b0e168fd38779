// The writes, as prepared statements: this is the path that every answer takes.
import type Database from 'better-sqlite3';
import { StoreRefused } from '../errors.ts';
import type { AppendOutcome, Edition, Entry, NewRun } from '../store.ts';
import { writeJson } from '../stored-json.ts';
import { touchReadiness } from './connection.ts';
import { isConstraint } from './translate-error.ts';

/** The statements behind the writes. Each finds its rows by an index, so that an append costs the same late in a run. */
export const writeStatements = {
  saveEdition: 'INSERT INTO editions (version, content) VALUES (?, ?) ON CONFLICT (version) DO NOTHING',
  findCreated: 'SELECT id FROM runs WHERE creation_key = ?',
  createRun: `INSERT INTO runs (id, creation_key, instrument, person, edition, opened_at) VALUES (?, ?, ?, ?, ?, ?)`,
  insertOpening: 'INSERT INTO openings (run, state) VALUES (?, ?)',
  findRun: 'SELECT number, revision FROM runs WHERE id = ?',
  findKey: 'SELECT revision, body_hash AS bodyHash FROM entries WHERE run = ? AND key = ?',
  advanceRun: 'UPDATE runs SET revision = ?, closed = ? WHERE number = ? AND revision = ?',
  insertEntry: `INSERT INTO entries (run, revision, key, at, body_hash, closed, body, state)
    VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
  touchReadiness,
} as const;

/** Writes to be performed inside a transaction. Each encodes its JSON first and gives back what to perform. */
export type Writes = {
  saveEdition(edition: Edition): () => void;
  createRun(run: NewRun): () => { id: string; created: boolean };
  append(entry: Entry): () => AppendOutcome;
  touchReadiness(): () => void;
};

/**
 * Prepares the writes on a connection. Encoding throws StoreRefused (`not-json`) before anything is queued; performing
 * throws StoreRefused (`id-taken`, `edition-unknown`) or SQLite's errors.
 */
export function prepareWrites(database: Database.Database): Writes {
  const saveEdition = database.prepare<[string, string]>(writeStatements.saveEdition);
  const touch = database.prepare<[]>(writeStatements.touchReadiness);
  return {
    saveEdition: (edition) => () => {
      saveEdition.run(edition.version, edition.content);
    },
    createRun: prepareCreate(database),
    append: prepareAppend(database),
    touchReadiness: () => () => {
      touch.run();
    },
  };
}

function prepareCreate(database: Database.Database): Writes['createRun'] {
  const findCreated = database.prepare<[string], { id: string }>(writeStatements.findCreated);
  const create = database.prepare<string[]>(writeStatements.createRun);
  const insertOpening = database.prepare<[number | bigint, string]>(writeStatements.insertOpening);
  return (run) => {
    const state = writeJson(run.state);
    return () => {
      const earlier = findCreated.get(run.creationKey);
      if (earlier !== undefined) return { id: earlier.id, created: false };
      try {
        const { id, creationKey, instrument, person, edition, openedAt } = run;
        const number = create.run(id, creationKey, instrument, person, edition, openedAt).lastInsertRowid;
        insertOpening.run(number, state);
      } catch (error) {
        if (isConstraint(error, 'UNIQUE')) throw new StoreRefused('id-taken', { cause: error });
        if (isConstraint(error, 'FOREIGNKEY')) throw new StoreRefused('edition-unknown', { cause: error });
        throw error;
      }
      return { id: run.id, created: true };
    };
  };
}

function prepareAppend(database: Database.Database): Writes['append'] {
  const findRun = database.prepare<[string], { number: number; revision: number }>(writeStatements.findRun);
  const findKey = database.prepare<[number, string], { revision: number; bodyHash: string }>(
    writeStatements.findKey,
  );
  const advance = database.prepare<number[]>(writeStatements.advanceRun);
  const insert = database.prepare<(number | string)[]>(writeStatements.insertEntry);
  return (entry) => {
    const body = writeJson(entry.body);
    const state = writeJson(entry.state);
    const closed = entry.closed ? 1 : 0;
    return () => {
      const run = findRun.get(entry.runId);
      if (run === undefined) return { outcome: 'unknown-run' };
      // The key comes before the revision: a repeat of an answer that was stored is no stale answer.
      const earlier = findKey.get(run.number, entry.key);
      if (earlier !== undefined) {
        const outcome = earlier.bodyHash === entry.bodyHash ? 'repeated' : 'key-reused';
        return { outcome, revision: earlier.revision };
      }
      const advanced = advance.run(entry.revision, closed, run.number, entry.revision - 1).changes;
      if (advanced === 0) return { outcome: 'stale', revision: run.revision };
      insert.run(run.number, entry.revision, entry.key, entry.at, entry.bodyHash, closed, body, state);
      return { outcome: 'stored' };
    };
  };
}
