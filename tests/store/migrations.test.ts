import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import Database from 'better-sqlite3';
import { describe, expect, onTestFinished, test } from 'vitest';
import { openSqliteStore, StoreTooNew } from '../../src/store/index.ts';
import { openConnection } from '../../src/store/sqlite/connection.ts';
import { migrate, readLayout } from '../../src/store/sqlite/migrate.ts';
import { type Migration, migrations } from '../../src/store/sqlite/migrations/index.ts';
import { openRunWith } from './contract/harness.ts';
import { databasePath, temporaryDirectory } from './support/places.ts';
import { sampleEdition } from './support/samples.ts';

const next = migrations.length + 1;
const addRemarks: Migration = {
  layout: next,
  name: 'remarks',
  statements:
    "ALTER TABLE runs ADD COLUMN remark TEXT NOT NULL DEFAULT ''; CREATE TABLE remarks (text TEXT) STRICT;",
};

function openPlain(directory: string) {
  const database = new Database(databasePath(directory));
  onTestFinished(() => {
    database.close();
  });
  return database;
}

describe('the layout of the file', () => {
  test('the steps are numbered from 1 without a hole', () => {
    expect(migrations.map(({ layout }) => layout)).toEqual(migrations.map((_, index) => index + 1));
  });

  test('a new file runs every step once; opening it again runs none', () => {
    const directory = temporaryDirectory();
    const first = openConnection({ directory, busyTimeout: 100 });
    expect(first.migrated).toEqual(migrations.map(({ name }) => name));
    first.database.close();
    const second = openConnection({ directory, busyTimeout: 100 });
    expect(second.migrated).toEqual([]);
    expect(readLayout(second.database)).toBe(migrations.length);
    second.database.close();
  });

  test('a file of an older program gains the missing step and keeps its runs', async () => {
    const directory = temporaryDirectory();
    const store = openSqliteStore({ directory });
    await store.saveEdition(sampleEdition);
    await openRunWith(store, 'a', 3);
    await store.close();
    const { database, migrated } = openConnection({
      directory,
      busyTimeout: 100,
      migrations: [...migrations, addRemarks],
    });
    expect(migrated).toEqual(['remarks']);
    expect(database.prepare('SELECT id, revision, remark FROM runs').get()).toEqual({
      id: 'a',
      revision: 3,
      remark: '',
    });
    database.close();
  });

  test('a step that fails halfway leaves the layout before it, whole', () => {
    const directory = temporaryDirectory();
    const broken = {
      ...addRemarks,
      statements: `${addRemarks.statements} CREATE TABLE remarks (again TEXT);`,
    };
    const open = (steps: Migration[]) => openConnection({ directory, busyTimeout: 100, migrations: steps });
    expect(() => open([...migrations, broken])).toThrow(/already exists/);
    const database = openPlain(directory);
    expect(readLayout(database)).toBe(migrations.length);
    expect(database.prepare("SELECT name FROM sqlite_schema WHERE name = 'remarks'").all()).toEqual([]);
    expect(open([...migrations, addRemarks]).migrated).toEqual(['remarks']);
  });

  test('a file of a newer program is refused, with what to do, and is not touched', () => {
    const directory = temporaryDirectory();
    openConnection({ directory, busyTimeout: 100, migrations: [...migrations, addRemarks] }).database.close();
    const before = readFileSync(databasePath(directory));
    expect(() => openSqliteStore({ directory })).toThrow(StoreTooNew);
    expect(() => openSqliteStore({ directory })).toThrow(
      `layout ${next}; this version knows up to ${migrations.length}). Start the newer version`,
    );
    expect(readFileSync(databasePath(directory)).equals(before)).toBe(true);
  });

  test('a step waits for the program that is running it, and does not run it again', () => {
    const directory = temporaryDirectory();
    const one = openPlain(directory);
    const two = openPlain(directory);
    one.pragma('journal_mode = WAL');
    two.pragma('busy_timeout = 10');
    const trying = () => migrate(two, migrations);
    one.exec('BEGIN IMMEDIATE');
    expect(trying).toThrow(/locked/);
    one.exec('COMMIT');
    expect(migrate(one, migrations)).toHaveLength(migrations.length);
    expect(trying()).toEqual([]);
  });
});

test('every table is strict: a text where a number belongs is refused', () => {
  const { database } = openConnection({ directory: temporaryDirectory(), busyTimeout: 100 });
  const tables = database
    .prepare("SELECT name FROM pragma_table_list WHERE schema = 'main' AND strict = 0")
    .pluck()
    .all();
  expect(tables).toEqual(['sqlite_schema']);
  database.close();
});

test('a released step is never edited: a correction is a step of its own', () => {
  const digests = migrations.map(({ statements }) =>
    createHash('sha256').update(statements).digest('hex').slice(0, 16),
  );
  expect(digests).toEqual(['59f8bb003b207b5a']);
});
