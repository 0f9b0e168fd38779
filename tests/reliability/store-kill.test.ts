import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { closeSync, openSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import Database from 'better-sqlite3';
import { expect, onTestFinished, test } from 'vitest';
import { openSqliteStore } from '../../src/store/index.ts';
import { databasePath, temporaryDirectory } from '../store/support/places.ts';

const program = new URL('../store/programs/append-forever.ts', import.meta.url).pathname;
const kills = 15;

/** Runs the program until some time after its first acknowledged answer, kills it, and gives the lines it wrote. */
async function runAndKill(directory: string, round: number, milliseconds: number): Promise<string[]> {
  // Lines go to a file and not through a pipe: what was written before the kill is then all there.
  const log = join(directory, `lines-${round}.txt`);
  const descriptor = openSync(log, 'w');
  const child = spawn(process.execPath, [program, directory, `round-${round}`], {
    stdio: ['ignore', descriptor, 'pipe'],
  });
  closeSync(descriptor);
  onTestFinished(() => {
    child.kill('SIGKILL');
  });
  let complaints = '';
  child.stderr?.on('data', (text) => {
    complaints += text;
  });
  const exited = once(child, 'exit');
  while (!readFileSync(log, 'utf8').includes('stored run-0 round-') && child.exitCode === null)
    await sleep(5);
  await sleep(milliseconds);
  child.kill('SIGKILL');
  const [code, signal] = await exited;
  expect({ code, signal, complaints }).toEqual({ code: null, signal: 'SIGKILL', complaints: '' });
  // The last line may be cut.
  return readFileSync(log, 'utf8').split('\n').slice(0, -1);
}

async function readStored(directory: string): Promise<Set<string>> {
  const store = openSqliteStore({ directory });
  const lines = new Set<string>();
  for (const { id, revision } of await store.listRuns({ limit: 100 })) {
    const entries = await store.readEntries(id, { withState: true });
    lines.add(`${id} open 0`);
    expect(entries).toHaveLength(revision);
    for (const entry of entries) {
      expect(entry.state).toMatchObject({ key: entry.key });
      lines.add(`${id} ${entry.key} ${entry.revision}`);
    }
    expect((await store.readRun(id))?.state).toEqual(await store.readStateAt(id, revision));
  }
  await store.close();
  return lines;
}

test(`killed ${kills} times in the middle of writing: acknowledged ⊆ stored ⊆ sent, and the file is whole`, async () => {
  const directory = temporaryDirectory();
  const acknowledged = new Set<string>();
  const sent = new Set<string>();
  const counts: string[] = [];
  for (let round = 1; round <= kills; round += 1) {
    const delay = 5 + Math.floor(Math.random() * 150);
    const before = acknowledged.size;
    for (const line of await runAndKill(directory, round, delay)) {
      if (line.startsWith('sent ')) sent.add(line.slice('sent '.length));
      else acknowledged.add(line.slice('stored '.length));
    }
    const stored = await readStored(directory);
    const lost = [...acknowledged].filter((line) => !stored.has(line));
    const invented = [...stored].filter((line) => !sent.has(line.slice(0, line.lastIndexOf(' '))));
    expect({ delay, lost, invented }).toEqual({ delay, lost: [], invented: [] });
    expect(acknowledged.size).toBeGreaterThan(before);
    const database = new Database(databasePath(directory));
    expect(database.pragma('integrity_check', { simple: true })).toBe('ok');
    expect(database.pragma('foreign_key_check')).toEqual([]);
    database.close();
    counts.push(`${stored.size - acknowledged.size}`);
  }
  console.log(
    `${acknowledged.size} acknowledged, 0 lost; stored without a word, by kill: ${counts.join(' ')}`,
  );
});
