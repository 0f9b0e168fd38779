import { describe, expect, onTestFinished, test } from 'vitest';
import { openSqliteStore, StoreRefused, StoreUnavailable } from '../../src/store/index.ts';
import { openConnection } from '../../src/store/sqlite/connection.ts';
import { GroupCommit } from '../../src/store/sqlite/group-commit.ts';
import { temporaryDirectory } from './support/places.ts';
import { sampleEdition, sampleEntry, sampleRun } from './support/samples.ts';
import { readWriteAheadLog } from './support/write-ahead-log.ts';

function openGroups() {
  const { database } = openConnection({ directory: temporaryDirectory(), busyTimeout: 100 });
  onTestFinished(() => {
    database.close();
  });
  const failures: number[] = [];
  const groups = new GroupCommit(database, {
    share: true,
    onFailure: (_error, writes) => failures.push(writes),
  });
  const insert = database.prepare('INSERT INTO editions (version, content) VALUES (?, ?)');
  const save = (version: string, content = '') => groups.enqueue(() => insert.run(version, content).changes);
  const versions = () => database.prepare('SELECT version FROM editions ORDER BY version').pluck().all();
  return { database, groups, failures, save, versions };
}

async function openRuns(ids: readonly string[], sharedCommits: boolean) {
  const directory = temporaryDirectory();
  const store = openSqliteStore({ directory, sharedCommits });
  onTestFinished(() => store.close());
  await store.saveEdition(sampleEdition);
  await Promise.all(ids.map((id) => store.createRun(sampleRun(id))));
  return { directory, store };
}

describe('writes that share a commit', () => {
  const ids = Array.from({ length: 32 }, (_, index) => `run-${index}`);

  test.each([
    ['32 answers of one turn share one commit', true, 1],
    ['32 answers take 32 commits when sharing is off', false, 32],
  ])('%s', async (_name, sharedCommits, commits) => {
    const { directory, store } = await openRuns(ids, sharedCommits);
    const before = readWriteAheadLog(directory).commitEnds.length;
    await Promise.all(ids.map((id) => store.append(sampleEntry(id, 1))));
    expect(readWriteAheadLog(directory).commitEnds.length - before).toBe(commits);
  });

  test('an answer is acknowledged only when its commit is in the log', async () => {
    const { directory, store } = await openRuns(['a'], true);
    const before = readWriteAheadLog(directory).commitEnds.length;
    let isAcknowledged = false;
    const append = store.append(sampleEntry('a', 1)).then(() => {
      isAcknowledged = true;
      return readWriteAheadLog(directory).commitEnds.length;
    });
    await Promise.resolve();
    expect(isAcknowledged).toBe(false);
    expect(await append).toBe(before + 1);
  });

  test('one refused write among twenty good ones is refused alone', async () => {
    const { store } = await openRuns(ids.slice(0, 20), true);
    const appends = ids.slice(0, 20).map((id) => store.append(sampleEntry(id, 1)));
    const refused = store.createRun(sampleRun('orphan', { edition: 'never saved' }));
    const late = store.append(sampleEntry('run-0', 2));
    await expect(refused).rejects.toBeInstanceOf(StoreRefused);
    expect(await Promise.all([...appends, late])).toEqual(
      Array.from({ length: 21 }, () => ({ outcome: 'stored' })),
    );
    expect((await store.readRun('run-19'))?.revision).toBe(1);
  });

  test('a write that fails halfway leaves nothing of itself behind', async () => {
    const { database, groups, save, versions } = openGroups();
    const halfway = groups.enqueue(() => {
      database.exec("INSERT INTO editions (version, content) VALUES ('half', '')");
      throw new Error('halfway');
    });
    const first = save('before');
    const taken = save('before');
    const after = save('after');
    await expect(halfway).rejects.toThrow('halfway');
    await expect(taken).rejects.toThrow(/UNIQUE/);
    expect(await Promise.all([first, after])).toEqual([1, 1]);
    expect(versions()).toEqual(['after', 'before']);
  });

  test('a commit that fails fails every write of its group, keeps none, and the next group works', async () => {
    const { database, groups, failures, save, versions } = openGroups();
    const group = [
      save('a'),
      // The reference to a run that does not exist is noticed at the commit and not before.
      groups.enqueue(() => {
        database.pragma('defer_foreign_keys = ON');
        return database.prepare('INSERT INTO openings (run, state) VALUES (99, ?)').run('null').changes;
      }),
      save('b'),
    ];
    const outcomes = await Promise.allSettled(group);
    for (const outcome of outcomes) {
      expect(outcome).toMatchObject({ status: 'rejected', reason: { name: 'StoreUnavailable' } });
    }
    expect(failures).toEqual([3]);
    expect(versions()).toEqual([]);
    await expect(save('c')).resolves.toBe(1);
    expect(versions()).toEqual(['c']);
  });

  test('a full file fails what does not fit with "disk-full", and takes writes again when there is room', async () => {
    const { database, save, versions } = openGroups();
    const pages = Number(database.pragma('page_count', { simple: true }));
    database.pragma(`max_page_count = ${pages + 2}`);
    const large = 'x'.repeat(100_000);
    await expect(save('large', large)).rejects.toMatchObject({
      name: 'StoreUnavailable',
      reason: 'disk-full',
    });
    await expect(save('small')).resolves.toBe(1);
    database.pragma('max_page_count = 100000');
    await expect(save('large', large)).resolves.toBe(1);
    expect(versions()).toEqual(['large', 'small']);
    expect(database.pragma('integrity_check', { simple: true })).toBe('ok');
  });

  test('after closing no write is taken', async () => {
    const { groups, save, versions } = openGroups();
    const waiting = save('in time');
    groups.close();
    await expect(waiting).resolves.toBe(1);
    await expect(save('late')).rejects.toBeInstanceOf(StoreUnavailable);
    expect(versions()).toEqual(['in time']);
  });
});
