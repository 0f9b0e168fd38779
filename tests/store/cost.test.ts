import { DummyDriver, Kysely, PostgresAdapter, PostgresIntrospector, PostgresQueryCompiler } from 'kysely';
import { describe, expect, onTestFinished, test } from 'vitest';
import { openSqliteStore } from '../../src/store/index.ts';
import {
  selectEdition,
  selectEntries,
  selectEntriesWithState,
  selectOpening,
  selectRun,
  selectRuns,
  selectStateAt,
} from '../../src/store/queries.ts';
import { openConnection } from '../../src/store/sqlite/connection.ts';
import { sqliteBuilder } from '../../src/store/sqlite/reader.ts';
import { writeStatements } from '../../src/store/sqlite/writes.ts';
import type { StoreTables } from '../../src/store/tables.ts';
import { temporaryDirectory } from './support/places.ts';
import { sampleEdition, sampleEntry, sampleRun } from './support/samples.ts';
import { readWriteAheadLog } from './support/write-ahead-log.ts';

const queriesOf = (builder: Kysely<StoreTables>) => ({
  run: selectRun(builder, 'a').compile(),
  entries: selectEntries(builder, 'a', 1, 9).compile(),
  entriesWithState: selectEntriesWithState(builder, 'a', 1, 9).compile(),
  opening: selectOpening(builder, 'a').compile(),
  stateAt: selectStateAt(builder, 'a', 3).compile(),
  edition: selectEdition(builder, 'edition-1').compile(),
  closedRuns: selectRuns(builder, { closed: true, limit: 5, before: 'a' }).compile(),
});

function explain(sql: string): string[] {
  const { database } = openConnection({ directory: temporaryDirectory(), busyTimeout: 100 });
  const places = Array.from(sql.matchAll(/\?/g), () => 1);
  const rows = database.prepare<unknown[], { detail: string }>(`EXPLAIN QUERY PLAN ${sql}`).all(...places);
  database.close();
  return rows.map(({ detail }) => detail);
}

describe('an answer costs the same late in a run as early', () => {
  test.each(Object.entries(writeStatements))('the write %s finds its rows by an index', (_name, sql) => {
    expect(explain(sql).filter((step) => /SCAN|TEMP B-TREE/.test(step))).toEqual([]);
  });

  test.each(Object.entries(queriesOf(sqliteBuilder)))(
    'the read %s finds its rows by an index',
    (_name, { sql }) => {
      const steps = explain(sql);
      expect(steps.length).toBeGreaterThan(0);
      expect(steps.filter((step) => /SCAN|TEMP B-TREE/.test(step))).toEqual([]);
    },
  );

  test('an append late in a run writes as many pages as one early in it', async () => {
    const directory = temporaryDirectory();
    const store = openSqliteStore({ directory });
    onTestFinished(() => store.close());
    await store.saveEdition(sampleEdition);
    await store.createRun(sampleRun('a'));
    const state = { notes: 'x'.repeat(1500) };
    const pagesOf = async (from: number, to: number) => {
      const before = readWriteAheadLog(directory);
      for (let revision = from; revision <= to; revision += 1)
        await store.append(sampleEntry('a', revision, { state }));
      const after = readWriteAheadLog(directory);
      return (
        ((after.commitEnds.at(-1) ?? 0) - (before.commitEnds.at(-1) ?? 0)) / after.frameSize / (to - from + 1)
      );
    };
    const early = await pagesOf(1, 20);
    await pagesOf(21, 180);
    const late = await pagesOf(181, 200);
    expect(early).toBeGreaterThan(0);
    expect(late).toBeLessThanOrEqual(early + 1);
  }, 30_000);
});

test('every read is also a query for PostgreSQL', () => {
  const postgres = new Kysely<StoreTables>({
    dialect: {
      createAdapter: () => new PostgresAdapter(),
      createDriver: () => new DummyDriver(),
      createIntrospector: (builder) => new PostgresIntrospector(builder),
      createQueryCompiler: () => new PostgresQueryCompiler(),
    },
  });
  const ours = queriesOf(sqliteBuilder);
  for (const [name, query] of Object.entries(queriesOf(postgres))) {
    let place = 0;
    const expected = ours[name as keyof typeof ours].sql.replaceAll('?', () => `$${++place}`);
    expect(query.sql).toBe(expected);
    expect(query.parameters).toHaveLength(place);
  }
});
