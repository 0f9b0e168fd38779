import { renameSync } from 'node:fs';
import Database from 'better-sqlite3';
import { describe, expect, onTestFinished, test } from 'vitest';
import { openSqliteStore } from '../../src/store/index.ts';
import { databasePath, temporaryDirectory } from './support/places.ts';
import { sampleEdition, sampleEntry, sampleRun } from './support/samples.ts';

async function openWithRun() {
  const directory = temporaryDirectory();
  const lines: object[] = [];
  const logger = { info: () => {}, warn: () => {}, error: (fields: object) => void lines.push(fields) };
  const store = openSqliteStore({ directory, logger, busyTimeout: 20 });
  onTestFinished(() => store.close());
  await store.saveEdition(sampleEdition);
  await store.createRun(sampleRun('a'));
  return { directory, store, lines };
}

describe('a store that cannot be written for a while', () => {
  test('while another program holds the lock nothing is acknowledged; afterwards the same answer is taken', async () => {
    const { directory, store, lines } = await openWithRun();
    const other = new Database(databasePath(directory));
    onTestFinished(() => {
      other.close();
    });
    other.exec('BEGIN IMMEDIATE');
    const waiting = await Promise.allSettled([store.append(sampleEntry('a', 1)), store.check()]);
    for (const outcome of waiting) {
      expect(outcome).toMatchObject({
        status: 'rejected',
        reason: { name: 'StoreUnavailable', reason: 'locked' },
      });
    }
    expect(lines).toMatchObject([{ writes: 2, path: databasePath(directory) }]);
    expect((await store.readRun('a'))?.revision).toBe(0);
    other.exec('COMMIT');
    expect(await store.append(sampleEntry('a', 1))).toEqual({ outcome: 'stored' });
    await expect(store.check()).resolves.toBeUndefined();
  });

  test('a file moved away under the running program makes it not ready, until it is put back', async () => {
    const { directory, store } = await openWithRun();
    const path = databasePath(directory);
    renameSync(path, `${path}.away`);
    await expect(store.check()).rejects.toMatchObject({ name: 'StoreUnavailable', reason: 'moved' });
    renameSync(`${path}.away`, path);
    await expect(store.check()).resolves.toBeUndefined();
  });

  test('every reason has a message that says what to do and names no path', async () => {
    const { directory, store } = await openWithRun();
    await store.close();
    const error = await store.check().catch((reason: unknown) => reason);
    expect(error).toMatchObject({
      message: expect.stringContaining('Send the answer again'),
      path: databasePath(directory),
    });
    expect(String(error)).not.toContain(directory);
  });
});
