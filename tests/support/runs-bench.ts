/** The real content, a real store in a folder of its own, and the real use cases: what tests of runs stand on. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Content, loadContent } from '../../src/content/index.ts';
import type { DiagnosisModel } from '../../src/diagnosis/index.ts';
import { openStaves, type Staves } from '../../src/engraving/index.ts';
import { createRuns } from '../../src/runs/create-runs.ts';
import { type Editions, openEditions } from '../../src/runs/editions.ts';
import { newRunCode } from '../../src/runs/run-code.ts';
import type { Runs } from '../../src/runs/runs.ts';
import { withExample } from '../../src/runs/with-example.ts';
import { openSqliteStore, type RunStore } from '../../src/store/index.ts';

export const flowsFolder = new URL('../../flows/', import.meta.url).pathname;

export type RunsBench = {
  readonly content: Content;
  readonly model: DiagnosisModel;
  readonly runs: Runs;
  readonly store: RunStore;
  readonly editions: Editions;
  readonly staves: Staves;
  readonly directory: string;
  dispose(): Promise<void>;
};

/** Opens everything; `content` stands in for the folder where a test has changed it. */
export async function openRunsBench(
  content: Content = loadContent(flowsFolder),
  directory?: string,
): Promise<RunsBench> {
  const folder = directory ?? (await mkdtemp(join(tmpdir(), 'quarter-turn-runs-')));
  const store = openSqliteStore({ directory: folder });
  const editions = await openEditions(store, content);
  const staves = openStaves();
  const parts = { store, editions, staves, now: () => new Date(), newCode: newRunCode };
  const runs = withExample(createRuns(parts), parts);
  return {
    content,
    model: content.instruments.get('alto-saxophone')!.model,
    runs,
    store,
    editions,
    staves,
    directory: folder,
    async dispose() {
      await store.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
