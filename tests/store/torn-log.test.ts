import { copyFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openSqliteStore, type RunStore } from '../../src/store/index.ts';
import { databasePath } from './support/places.ts';
import { sampleEdition, sampleEntry, sampleRun } from './support/samples.ts';
import { readWriteAheadLog, type WriteAheadLog } from './support/write-ahead-log.ts';

const entries = 12;

describe('a log that was torn when the power went', () => {
  let place: string;
  let store: RunStore;
  let log: WriteAheadLog;
  /** Where in the log the commit of each entry ends; index 0 is the opening of the run. */
  const ends: number[] = [];

  beforeAll(async () => {
    place = mkdtempSync(join(tmpdir(), 'quarter-turn-test-'));
    store = openSqliteStore({ directory: place });
    const noteEnd = () => ends.push(readWriteAheadLog(place).commitEnds.at(-1) ?? 0);
    await store.saveEdition(sampleEdition);
    await store.createRun(sampleRun('a'));
    noteEnd();
    for (let revision = 1; revision <= entries; revision += 1) {
      await store.append(sampleEntry('a', revision, { state: { revision, notes: 'x'.repeat(1500) } }));
      noteEnd();
    }
    log = readWriteAheadLog(place);
  });

  afterAll(async () => {
    await store.close();
    rmSync(place, { recursive: true, force: true });
  });

  /** Opens a copy whose log has these bytes and checks that it holds just the entries committed before `intact`. */
  async function expectPrefix(bytes: Buffer, intact: number): Promise<void> {
    const directory = mkdtempSync(join(tmpdir(), 'quarter-turn-test-'));
    copyFileSync(databasePath(place), databasePath(directory));
    writeFileSync(`${databasePath(directory)}-wal`, bytes);
    const copy = openSqliteStore({ directory });
    try {
      const expected = ends.findLastIndex((end) => end <= intact);
      const stored = await copy.readEntries('a', { withState: true });
      expect(stored.map(({ revision }) => revision)).toEqual(
        Array.from({ length: expected }, (_, index) => index + 1),
      );
      expect((await copy.readRun('a'))?.revision).toBe(expected);
      const next = sampleEntry('a', expected + 1, { key: 'after the tear' });
      expect(await copy.append(next)).toEqual({ outcome: 'stored' });
    } finally {
      await copy.close();
      rmSync(directory, { recursive: true, force: true });
    }
  }

  test('cut anywhere in its last frames, it opens at the entries whose commit is whole, and takes the next one', async () => {
    const start = ends.at(-3) ?? 0;
    const cuts = new Set<number>();
    for (let edge = start; edge <= log.bytes.length; edge += log.frameSize) {
      for (const offset of [-1, 0, 1, 23, 24, 25]) cuts.add(edge + offset);
    }
    for (let cut = start; cut < log.bytes.length; cut += 997) cuts.add(cut);
    const usable = [...cuts].filter((cut) => cut <= log.bytes.length);
    expect(usable.length).toBeGreaterThan(60);
    for (const cut of usable) await expectPrefix(log.bytes.subarray(0, cut), cut);
  }, 120_000);

  test('with one bit turned anywhere in its last frames, it opens at the entries before that bit', async () => {
    const start = ends.at(-3) ?? 0;
    const end = ends.at(-1) ?? 0;
    for (let position = start; position < end; position += 701) {
      const bytes = Buffer.from(log.bytes);
      bytes.writeUInt8(bytes.readUInt8(position) ^ (1 << (position % 8)), position);
      await expectPrefix(bytes, position);
    }
  }, 120_000);

  test('lost from the last commit on but for its end, it opens before that commit', async () => {
    const lastStart = ends.at(-2) ?? 0;
    const bytes = Buffer.from(log.bytes);
    bytes.fill(0, lastStart, lastStart + log.frameSize);
    await expectPrefix(bytes, lastStart);
  });
});
