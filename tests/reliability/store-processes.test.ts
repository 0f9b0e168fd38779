import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import Database from 'better-sqlite3';
import { expect, test } from 'vitest';
import { openSqliteStore } from '../../src/store/index.ts';
import { databasePath, temporaryDirectory } from '../store/support/places.ts';

const program = new URL('../store/programs/race-on-one-run.ts', import.meta.url).pathname;
const runFile = promisify(execFile);

test('four programs that make the same file and answer the same run: every revision has exactly one winner', async () => {
  const directory = temporaryDirectory();
  const beginning = String(Date.now() + 2500);
  const outputs = await Promise.all(
    ['north', 'east', 'south', 'west'].map((name) =>
      runFile(process.execPath, [program, directory, name, '40', beginning]),
    ),
  );
  const won = outputs.flatMap(({ stdout }) => JSON.parse(stdout) as number[]);
  expect(won.toSorted((left, right) => left - right)).toEqual(
    Array.from({ length: 160 }, (_, index) => index + 1),
  );
  const store = openSqliteStore({ directory });
  expect(await store.listRuns({ limit: 5 })).toMatchObject([{ id: 'a', revision: 160 }]);
  expect(await store.readEntries('a')).toHaveLength(160);
  await store.close();
  const database = new Database(databasePath(directory));
  expect(database.pragma('integrity_check', { simple: true })).toBe('ok');
  database.close();
});

test('four programs that make a hundred new files at the same moments all open every one', async () => {
  const directory = temporaryDirectory();
  const opener = new URL('../store/programs/open-many.ts', import.meta.url).pathname;
  const beginning = String(Date.now() + 2500);
  const outputs = await Promise.all(
    Array.from({ length: 4 }, () => runFile(process.execPath, [opener, directory, '100', beginning])),
  );
  expect(outputs.map(({ stdout }) => stdout.trim())).toEqual(['100', '100', '100', '100']);
});
