import { readFileSync, writeFileSync } from 'node:fs';
import Database from 'better-sqlite3';
import { describe, expect, onTestFinished, test } from 'vitest';
import { openSqliteStore, StoreDamaged } from '../../src/store/index.ts';
import { openRunWith } from './contract/harness.ts';
import { databasePath, temporaryDirectory } from './support/places.ts';
import { sampleEdition } from './support/samples.ts';

/** A store with two runs of three entries, on which these statements were then run by other hands. */
async function openAfter(statements: string) {
  const directory = temporaryDirectory();
  const first = openSqliteStore({ directory });
  await first.saveEdition(sampleEdition);
  await openRunWith(first, 'hurt', 3);
  await openRunWith(first, 'sound', 3);
  await first.close();
  const database = new Database(databasePath(directory));
  database.pragma('foreign_keys = OFF');
  database.exec(statements);
  database.close();
  const store = openSqliteStore({ directory });
  onTestFinished(() => store.close());
  return store;
}

describe('a damaged record', () => {
  const ofRun = "(SELECT number FROM runs WHERE id = 'hurt')";

  test.each([
    [
      'an unreadable last state',
      `UPDATE entries SET state = '{"step":' WHERE run = ${ofRun} AND revision = 3`,
      'entry 3',
    ],
    ['a missing last entry', `DELETE FROM entries WHERE run = ${ofRun} AND revision = 3`, 'entry 3'],
    [
      'an unreadable opening',
      `UPDATE runs SET revision = 0 WHERE id = 'hurt'; UPDATE openings SET state = ''`,
      'opening',
    ],
    ['a missing opening', `UPDATE runs SET revision = 0 WHERE id = 'hurt'; DELETE FROM openings`, 'opening'],
  ])('%s gives an error that names the run and the part', async (_name, statements, part) => {
    const store = await openAfter(statements);
    const error = await store.readRun('hurt').catch((reason: unknown) => reason);
    expect(error).toBeInstanceOf(StoreDamaged);
    expect(error).toMatchObject({ runId: 'hurt', message: expect.stringContaining(part) });
    expect(String(error)).toContain('Other runs are not affected');
    expect((await store.readRun('sound'))?.revision).toBe(3);
    expect(await store.listRuns({ limit: 5 })).toHaveLength(2);
    await expect(store.check()).resolves.toBeUndefined();
  });

  test.each([
    ['an unreadable event', `UPDATE entries SET body = 'nonsense' WHERE run = ${ofRun} AND revision = 2`],
    ['a hole in the middle', `DELETE FROM entries WHERE run = ${ofRun} AND revision = 2`],
  ])('%s is never passed over in the list of entries', async (_name, statements) => {
    const store = await openAfter(statements);
    await expect(store.readEntries('hurt')).rejects.toMatchObject({ name: 'StoreDamaged', runId: 'hurt' });
    expect(await store.readEntries('hurt', { from: 3 })).toHaveLength(1);
    expect(await store.readEntries('sound')).toHaveLength(3);
  });

  test('states are read apart: a damaged one does not hide the others', async () => {
    const store = await openAfter(`UPDATE entries SET state = '[' WHERE run = ${ofRun} AND revision = 2`);
    await expect(store.readStateAt('hurt', 2)).rejects.toMatchObject({ name: 'StoreDamaged', runId: 'hurt' });
    expect(await store.readStateAt('hurt', 1)).toMatchObject({ revision: 1 });
    expect(await store.readEntries('hurt')).toHaveLength(3);
  });
});

describe('a damaged file', () => {
  test('a file that is no database is refused and left as it is', () => {
    const directory = temporaryDirectory();
    writeFileSync(databasePath(directory), 'a letter to the band parents '.repeat(100));
    expect(() => openSqliteStore({ directory })).toThrow(
      expect.objectContaining({ name: 'StoreDamaged', runId: undefined, path: databasePath(directory) }),
    );
    expect(readFileSync(databasePath(directory), 'utf8')).toMatch(/^a letter/);
  });

  test('pages full of noise give an error of the store, at opening or at reading, and never a crash', async () => {
    const directory = temporaryDirectory();
    const copy = openSqliteStore({ directory });
    await copy.saveEdition(sampleEdition);
    await openRunWith(copy, 'a', 30);
    await copy.close();
    const bytes = readFileSync(databasePath(directory));
    bytes.fill(0x5a, 4096);
    writeFileSync(databasePath(directory), bytes);
    const reading = async () => {
      const damaged = openSqliteStore({ directory });
      try {
        await damaged.readRun('a');
      } finally {
        await damaged.close();
      }
    };
    await expect(reading()).rejects.toBeInstanceOf(StoreDamaged);
  });
});
