// The reads. The query builder compiles them and the store's own connection runs them, as statements prepared once:
// - one connection sees every acknowledged write, and no second one holds back the checkpoints of the first;
// - the builder's own SQLite driver would prepare each statement anew and put a lock around the connection, which the
//   group commit must not share;
// - another database takes the same builders (queries.ts) with its dialect's driver.
import type Database from 'better-sqlite3';
import { DummyDriver, Kysely, SqliteAdapter, SqliteIntrospector, SqliteQueryCompiler } from 'kysely';
import { StoreDamaged } from '../errors.ts';
import {
  selectEdition,
  selectEntries,
  selectEntriesWithState,
  selectOpening,
  selectRun,
  selectRuns,
  selectStateAt,
} from '../queries.ts';
import type { EntryRange, RunFilter, RunRow, RunSummary, StoredEntry } from '../store.ts';
import { readJson } from '../stored-json.ts';
import type { StoreTables } from '../tables.ts';
import { place, prepareQuery } from './prepared-query.ts';

type EntryRecord = Omit<StoreTables['entries'], 'run' | 'state'> & { state?: string };
type SummaryRecord = Omit<StoreTables['runs'], 'number' | 'creation_key'>;

/** A query builder that compiles for SQLite and runs nothing itself. */
export const sqliteBuilder = new Kysely<StoreTables>({
  dialect: {
    createAdapter: () => new SqliteAdapter(),
    createDriver: () => new DummyDriver(),
    createIntrospector: (builder) => new SqliteIntrospector(builder),
    createQueryCompiler: () => new SqliteQueryCompiler(),
  },
});

/** The reads of one connection. They are synchronous and throw StoreDamaged or SQLite's errors. */
export class Reader {
  readonly #database: Database.Database;
  readonly #queries: ReturnType<typeof prepareQueries>;

  constructor(database: Database.Database) {
    this.#database = database;
    this.#queries = prepareQueries(database);
  }

  run(id: string): RunRow | undefined {
    const record = this.#queries.run.first({ id });
    if (record === undefined) return undefined;
    const text = record.revision === 0 ? this.#queries.opening.first({ id })?.state : record.state;
    return { ...toSummary(record), state: readState(id, record.revision, text ?? null) };
  }

  entries(id: string, range: EntryRange): StoredEntry[] {
    const from = Math.max(Math.ceil(range.from ?? 1), 1);
    const query = range.withState ? this.#queries.entriesWithState : this.#queries.entries;
    const records: EntryRecord[] = query.all({ id, from, to: range.to ?? Number.MAX_SAFE_INTEGER });
    return records.map((record, index) => {
      // A run with a hole in it would be replayed to a wrong answer.
      if (record.revision !== from + index) {
        throw new StoreDamaged({ runId: id, part: `entry ${from + index} is missing` });
      }
      return toEntry(id, record);
    });
  }

  stateAt(id: string, revision: number): unknown | undefined {
    const record =
      revision === 0 ? this.#queries.opening.first({ id }) : this.#queries.stateAt.first({ id, revision });
    return record && readState(id, revision, record.state);
  }

  edition(version: string): string | undefined {
    return this.#queries.edition.first({ version })?.content;
  }

  runs(filter: RunFilter): RunSummary[] {
    if (!Number.isSafeInteger(filter.limit) || filter.limit < 0) {
      throw new RangeError(`The limit of a list is a whole number from 0 up, not ${filter.limit}.`);
    }
    return prepareQuery(this.#database, selectRuns(sqliteBuilder, filter)).all({}).map(toSummary);
  }
}

function prepareQueries(database: Database.Database) {
  const id = place('id');
  return {
    run: prepareQuery(database, selectRun(sqliteBuilder, id)),
    entries: prepareQuery(database, selectEntries(sqliteBuilder, id, place('from'), place('to'))),
    entriesWithState: prepareQuery(
      database,
      selectEntriesWithState(sqliteBuilder, id, place('from'), place('to')),
    ),
    opening: prepareQuery(database, selectOpening(sqliteBuilder, id)),
    stateAt: prepareQuery(database, selectStateAt(sqliteBuilder, id, place('revision'))),
    edition: prepareQuery(database, selectEdition(sqliteBuilder, place('version'))),
  };
}

function toSummary(record: SummaryRecord): RunSummary {
  const { id, instrument, person, edition, opened_at: openedAt, revision } = record;
  return { id, instrument, person, edition, openedAt, revision, closed: record.closed === 1 };
}

function toEntry(runId: string, record: EntryRecord): StoredEntry {
  const { revision, key, at, body_hash: bodyHash, state } = record;
  const body = readJson(record.body, { runId, part: `entry ${revision}` });
  const entry = { runId, revision, key, at, body, bodyHash, closed: record.closed === 1 };
  return state === undefined ? entry : { ...entry, state: readState(runId, revision, state) };
}

function readState(runId: string, revision: number, state: string | null): unknown {
  return readJson(state, { runId, part: revision === 0 ? 'its opening' : `entry ${revision}` });
}
