import { mkdirSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, onTestFinished, test } from 'vitest';
import { openSqliteStore, StoreNotDurable } from '../../src/store/index.ts';
import { assertDurable, demandDurability, openConnection } from '../../src/store/sqlite/connection.ts';
import { migrations } from '../../src/store/sqlite/migrations/index.ts';
import { databasePath, temporaryDirectory } from './support/places.ts';

function open(directory: string) {
  const { database } = openConnection({ directory, busyTimeout: 100 });
  onTestFinished(() => {
    database.close();
  });
  return database;
}

describe('the settings that make a commit durable', () => {
  test('every opening writes ahead and syncs fully, also after further writes and after reopening', () => {
    const directory = temporaryDirectory();
    for (let opening = 1; opening <= 3; opening += 1) {
      const database = open(directory);
      database.exec(`INSERT INTO editions (version, content) VALUES ('edition-${opening}', '')`);
      expect(database.pragma('journal_mode', { simple: true })).toBe('wal');
      expect(database.pragma('synchronous', { simple: true })).toBe(2);
      expect(database.pragma('foreign_keys', { simple: true })).toBe(1);
      database.close();
    }
  });

  test('a connection as the driver opens it is refused, with the setting named and what to do', () => {
    const directory = temporaryDirectory();
    open(directory).close();
    const plain = new Database(databasePath(directory));
    onTestFinished(() => {
      plain.close();
    });
    plain.exec("INSERT INTO editions (version, content) VALUES ('plain', '')");
    expect(() => assertDurable(plain)).toThrow(StoreNotDurable);
    expect(() => assertDurable(plain)).toThrow(/synchronous is 1 and must be 2.*Install/s);
    demandDurability(plain, 0);
    expect(() => assertDurable(plain)).not.toThrow();
  });

  test('an opening after which the setting has slipped is refused, and leaves the file free', () => {
    const directory = temporaryDirectory();
    const slip = {
      layout: migrations.length + 1,
      name: 'slip',
      statements: 'COMMIT; PRAGMA synchronous = NORMAL; BEGIN;',
    };
    const opening = () => openConnection({ directory, busyTimeout: 100, migrations: [...migrations, slip] });
    expect(opening).toThrow(StoreNotDurable);
    const database = new Database(databasePath(directory));
    expect(database.pragma('journal_mode = DELETE', { simple: true })).toBe('delete');
    database.close();
  });

  test('a database without a write-ahead log is refused', () => {
    const memory = new Database(':memory:');
    demandDurability(memory, 0);
    expect(() => assertDurable(memory)).toThrow(/journal_mode is memory and must be wal/);
  });

  test('the directory and the file are made for this user alone, however deep', async () => {
    const directory = join(temporaryDirectory(), 'a', 'b', 'data');
    const store = openSqliteStore({ directory });
    await store.close();
    expect(statSync(directory).mode & 0o777).toBe(0o700);
    expect(statSync(dirname(directory)).mode & 0o777).toBe(0o700);
    expect(statSync(databasePath(directory)).mode & 0o777).toBe(0o600);
  });

  test('closing folds the log into the file', async () => {
    const directory = temporaryDirectory();
    const store = openSqliteStore({ directory });
    await store.saveEdition({ version: 'a', content: 'x'.repeat(50_000) });
    await store.close();
    expect(statSync(`${databasePath(directory)}-wal`, { throwIfNoEntry: false })).toBeUndefined();
    expect(statSync(databasePath(directory)).size).toBeGreaterThan(50_000);
  });

  test('the operator hears of a new layout once, with the path in a field and not in the sentence', async () => {
    const directory = temporaryDirectory();
    const lines: { fields: object; message: string }[] = [];
    const note = (fields: object, message: string) => void lines.push({ fields, message });
    const logger = { info: note, warn: note, error: note };
    await openSqliteStore({ directory, logger }).close();
    await openSqliteStore({ directory, logger }).close();
    expect(lines).toHaveLength(1);
    expect(lines[0]?.fields).toMatchObject({ path: databasePath(directory) });
    expect(lines[0]?.message).not.toContain(directory);
  });
});

describe('a place that cannot be used', () => {
  test('a data directory that is a file is refused, and the message names no path', () => {
    const directory = temporaryDirectory();
    const file = join(directory, 'data');
    writeFileSync(file, 'not a directory');
    expect(() => openSqliteStore({ directory: file })).toThrow(
      expect.objectContaining({
        name: 'StoreUnavailable',
        reason: 'cannot-open',
        path: databasePath(file),
        message: expect.not.stringContaining(directory),
      }),
    );
  });

  test('a directory in the place of the database file is refused', () => {
    const directory = temporaryDirectory();
    mkdirSync(databasePath(directory));
    expect(() => openSqliteStore({ directory })).toThrow(expect.objectContaining({ reason: 'cannot-open' }));
  });
});
