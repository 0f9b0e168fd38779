// The reads. The query builder compiles them and the store's own connection runs them, as statements prepared once:
// - one connection sees every acknowledged write, and no second one holds back the checkpoints of the first;
// - the builder's own SQLite driver would prepare each statement anew and put a lock around the connection, which the
//   group commit must not share;
// - another database takes the same builders (queries.ts) with its dialect's driver.
import type Database from 'better-sqlite3';
import {
  type CompiledQuery,
  DummyDriver,
  Kysely,
  SqliteAdapter,
  SqliteIntrospector,
  SqliteQueryCompiler,
} from 'kysely';
import { StoreDamaged } from '../errors.ts';
import * as queries from '../queries.ts';
import type { EntryRange, RunFilter, RunRow, RunSummary, StoredEntry } from '../store.ts';
import { readJson } from '../stored-json.ts';
import type { StoreTables } from '../tables.ts';

type Compilable<Row> = { compile(): CompiledQuery<Row> };
type EntryRecord = Omit<StoreTables['entries'], 'run' | 'state'> & { state?: string };
type SummaryRow = Omit<RunSummary, 'openedAt' | 'closed'> & { opened_at: string; closed: number };

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
  readonly #prepared = new Map<string, Database.Statement>();

  constructor(database: Database.Database) {
    this.#database = database;
  }

  run(id: string): RunRow | undefined {
    const row = this.#first(queries.selectRun(sqliteBuilder, id));
    if (row === undefined) return undefined;
    const part = row.revision === 0 ? 'its opening' : `entry ${row.revision}`;
    return { ...toSummary(row), state: readJson(row.state, { runId: id, part }) };
  }

  entries(id: string, range: EntryRange): StoredEntry[] {
    const rows: EntryRecord[] = range.withState
      ? this.#all(queries.selectEntriesWithState(sqliteBuilder, id, range))
      : this.#all(queries.selectEntries(sqliteBuilder, id, range));
    const first = Math.max(Math.ceil(range.from ?? 1), 1);
    return rows.map((row, index) => {
      // A run with a hole in it would be replayed to a wrong answer.
      if (row.revision !== first + index) {
        throw new StoreDamaged({ runId: id, part: `entry ${first + index} is missing` });
      }
      return toEntry(id, row);
    });
  }

  stateAt(id: string, revision: number): unknown | undefined {
    const query =
      revision === 0
        ? queries.selectOpeningState(sqliteBuilder, id)
        : queries.selectStateAt(sqliteBuilder, id, revision);
    const row = this.#first<{ state: string }>(query);
    return (
      row && readJson(row.state, { runId: id, part: revision === 0 ? 'its opening' : `entry ${revision}` })
    );
  }

  edition(version: string): string | undefined {
    return this.#first(queries.selectEdition(sqliteBuilder, version))?.content;
  }

  runs(filter: RunFilter): RunSummary[] {
    if (!Number.isSafeInteger(filter.limit) || filter.limit < 0) {
      throw new RangeError(`The limit of a list is a whole number from 0 up, not ${filter.limit}.`);
    }
    return this.#all(queries.selectRuns(sqliteBuilder, filter)).map(toSummary);
  }

  #first<Row>(query: Compilable<Row>): Row | undefined {
    return this.#all(query)[0];
  }

  #all<Row>(query: Compilable<Row>): Row[] {
    const { sql, parameters } = query.compile();
    let statement = this.#prepared.get(sql);
    if (statement === undefined) {
      statement = this.#database.prepare(sql);
      this.#prepared.set(sql, statement);
    }
    return statement.all(...parameters) as Row[];
  }
}

function toSummary(row: SummaryRow): RunSummary {
  const { id, instrument, person, edition, revision } = row;
  return { id, instrument, person, edition, openedAt: row.opened_at, revision, closed: row.closed === 1 };
}

function toEntry(runId: string, row: EntryRecord): StoredEntry {
  const place = { runId, part: `entry ${row.revision}` };
  const { revision, key, at, body_hash: bodyHash, state } = row;
  const entry = {
    runId,
    revision,
    key,
    at,
    body: readJson(row.body, place),
    bodyHash,
    closed: row.closed === 1,
  };
  return state === undefined ? entry : { ...entry, state: readJson(state, place) };
}
