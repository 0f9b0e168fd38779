import { execFileSync, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { chmodSync, chownSync, mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { createInterface } from 'node:readline';
import Database from 'better-sqlite3';
import { describe, expect, onTestFinished, test } from 'vitest';
import { openSqliteStore } from '../../src/store/index.ts';
import { nobody } from '../store/support/nobody.ts';
import { databasePath, temporaryDirectory } from '../store/support/places.ts';

const programs = new URL('../store/programs/', import.meta.url).pathname;
const canLimit = spawnSync('prlimit', ['--version']).status === 0;
if (!canLimit) console.log('Skipped: prlimit is not installed, so no disk can be made to look full.');

describe.skipIf(!canLimit)('a disk without room', () => {
  test('nothing more is acknowledged, the program lives and can be read, and it goes on when there is room', async () => {
    const directory = temporaryDirectory();
    const child = spawn(
      'prlimit',
      ['--fsize=300000:unlimited', process.execPath, join(programs, 'append-until-full.ts'), directory],
      { stdio: ['pipe', 'pipe', 'inherit'] },
    );
    onTestFinished(() => {
      child.kill('SIGKILL');
    });
    const exited = once(child, 'exit');
    const lines: string[] = [];
    for await (const line of createInterface({ input: child.stdout })) {
      lines.push(line);
      if (!line.startsWith('not ready')) continue;
      execFileSync('prlimit', ['--pid', String(child.pid), '--fsize=unlimited:unlimited']);
      child.stdin.end('there is room\n');
    }
    expect(await exited).toEqual([0, null]);
    const acknowledged = lines.filter((line) => line.startsWith('stored')).length;
    expect(acknowledged).toBeGreaterThan(5);
    expect(lines.slice(acknowledged, acknowledged + 2)).toEqual([
      expect.stringMatching(/^unavailable disk-(full|error)$/),
      `not ready, read ${acknowledged}`,
    ]);
    expect(lines.filter((line) => line.startsWith('again'))).toHaveLength(20);
    expect(lines.at(-1)).toBe('done');
    const store = openSqliteStore({ directory });
    expect(await store.readEntries('a', { withState: true })).toHaveLength(acknowledged + 20);
    await store.close();
    const database = new Database(databasePath(directory));
    expect(database.pragma('integrity_check', { simple: true })).toBe('ok');
    database.close();
  });
});

describe('a data directory that this user may not write', () => {
  const append = (directory: string): unknown =>
    JSON.parse(
      execFileSync(process.execPath, [join(programs, 'open-and-append.ts'), directory], { encoding: 'utf8' }),
    );

  function makeDirectory(): string {
    const directory = join(temporaryDirectory(), 'data');
    chmodSync(dirname(directory), 0o755);
    mkdirSync(directory, { mode: 0o700 });
    if (process.getuid?.() === 0) chownSync(directory, nobody, nobody);
    return directory;
  }

  const refusal = {
    reason: 'read-only',
    message: expect.stringContaining('Give this program leave to write'),
  };

  test('an empty one is refused with what to do, and used once it may be written', () => {
    const directory = makeDirectory();
    chmodSync(directory, 0o500);
    expect(append(directory)).toMatchObject(refusal);
    chmodSync(directory, 0o700);
    expect(append(directory)).toEqual({ outcome: 'stored' });
  });

  test('one with answers in it is refused too, keeps them, and takes the next one when it may be written', async () => {
    const directory = makeDirectory();
    expect(append(directory)).toEqual({ outcome: 'stored' });
    chmodSync(databasePath(directory), 0o400);
    chmodSync(directory, 0o500);
    expect(append(directory)).toMatchObject(refusal);
    chmodSync(directory, 0o700);
    chmodSync(databasePath(directory), 0o600);
    expect(append(directory)).toEqual({ outcome: 'stored' });
    const store = openSqliteStore({ directory });
    expect(await store.readEntries('a')).toHaveLength(2);
    await store.close();
  });
});
