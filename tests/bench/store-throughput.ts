// How many durable appends a second the store takes from 32 writers that each wait for their answer, with shared commits
// and with one commit each. Rates depend on the disk; the ratio of the two, taken in turns on one machine, says more.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openSqliteStore, type RunStore } from '../../src/store/index.ts';
import { median } from './median.ts';

/** Appends a second in the median round, with shared commits and with one commit each, and the first over the second. */
export type StoreThroughput = { shared: number; single: number; ratio: number };

const writers = 32;
// About the size of a snapshot of a run in the middle of a diagnosis: an estimate, 2 kB of JSON.
const state = {
  step: 'isolate',
  answers: Array.from({ length: 40 }, (_, index) => ({ note: 'C#4', answered: 'silent', index })),
};

/**
 * Measures in a temporary directory under `parent` (the system's unless given; a memory file system shows nothing),
 * in interleaved rounds of `roundMilliseconds`.
 */
export async function measureStore(options?: {
  parent?: string;
  rounds?: number;
  roundMilliseconds?: number;
}): Promise<StoreThroughput> {
  const { parent = tmpdir(), rounds = 5, roundMilliseconds = 1000 } = options ?? {};
  const shared: number[] = [];
  const single: number[] = [];
  for (let round = 0; round < rounds; round += 1) {
    shared.push(await measureRound(parent, roundMilliseconds, true));
    single.push(await measureRound(parent, roundMilliseconds, false));
  }
  return {
    shared: median(shared),
    single: median(single),
    ratio: median(shared.map((rate, round) => rate / (single[round] ?? Number.NaN))),
  };
}

async function measureRound(parent: string, milliseconds: number, sharedCommits: boolean): Promise<number> {
  const directory = mkdtempSync(join(parent, 'quarter-turn-bench-'));
  const store = openSqliteStore({ directory, sharedCommits });
  try {
    await store.saveEdition({ version: 'bench', content: '{}' });
    const ids = Array.from({ length: writers }, (_, index) => `run-${index}`);
    await Promise.all(ids.map((id) => openRun(store, id)));
    const start = performance.now();
    const counts = await Promise.all(ids.map((id) => appendUntil(store, id, start + milliseconds)));
    const appended = counts.reduce((sum, count) => sum + count, 0);
    return (appended * 1000) / (performance.now() - start);
  } finally {
    await store.close();
    rmSync(directory, { recursive: true, force: true });
  }
}

async function openRun(store: RunStore, id: string): Promise<void> {
  const openedAt = '2026-01-01T00:00:00.000Z';
  await store.createRun({
    id,
    creationKey: id,
    instrument: 'alto',
    person: 'director',
    edition: 'bench',
    openedAt,
    state,
  });
}

async function appendUntil(store: RunStore, runId: string, end: number): Promise<number> {
  let revision = 0;
  while (performance.now() < end) {
    revision += 1;
    const body = { note: 'C#4', answered: 'silent', revision };
    const { outcome } = await store.append({
      runId,
      revision,
      key: `${runId}-${revision}`,
      at: '2026-01-01T00:00:00.000Z',
      body,
      bodyHash: `hash-${revision}`,
      state,
      closed: false,
    });
    if (outcome !== 'stored') throw new Error(`An append of the benchmark was ${outcome}.`);
  }
  return revision;
}

if (import.meta.main) {
  const { shared, single, ratio } = await measureStore();
  console.log(
    `appends a second, ${writers} writers: ${shared.toFixed(0)} with shared commits, ${single.toFixed(0)} with one commit each; ratio ${ratio.toFixed(1)}`,
  );
}
