/** Starts the server: settings, flows, store, pages; and stops it without losing what it has acknowledged. */
import { join } from 'node:path';
import { pino } from 'pino';
import { buildApp } from './app.ts';
import { ConfigError, readConfig } from './config.ts';
import { ContentError, loadContent } from './content/index.ts';
import { openStaves } from './engraving/index.ts';
import { createLibrary } from './library/create-library.ts';
import { createRuns } from './runs/create-runs.ts';
import { openEditions } from './runs/editions.ts';
import { newRunCode } from './runs/run-code.ts';
import { withExample } from './runs/with-example.ts';
import { openSqliteStore, type RunStore, StoreError } from './store/index.ts';
import { createWarmUp } from './warm-up.ts';

const flowsFolder = new URL('../flows/', import.meta.url).pathname;

async function start(): Promise<void> {
  const config = readConfig(process.env);
  const logger = pino({ level: config.logLevel });
  const store = openSqliteStore({ directory: config.dataDir, logger });
  const content = loadContent(flowsFolder, { parsedCopy: join(config.dataDir, 'parsed-flows.json') });
  const editions = await openEditions(store, content);
  const staves = openStaves({
    keptAt: join(config.dataDir, 'engraved-notes.json'),
    onFailure: (error) => logger.warn({ err: error }, 'notes are shown without a staff'),
  });
  let isStopping = false;
  const warmUp = createWarmUp(() => isStopping);
  const parts = { store, editions, staves, warmUp, now: () => new Date(), newCode: newRunCode };
  const runs = withExample(createRuns(parts), parts);
  const app = buildApp({
    config,
    runs,
    library: createLibrary(content),
    isReady: () => isStoreReady(store),
    logger,
  });

  const stop = async (signal: string): Promise<void> => {
    if (isStopping) return;
    isStopping = true;
    logger.info({ signal }, 'stopping');
    await app.close();
    await store.close();
  };
  for (const signal of ['SIGINT', 'SIGTERM']) process.once(signal, () => void stop(signal));

  const address = await app.listen({ host: config.host, port: config.port });
  console.log(
    `Quarter Turn is ready. Open ${config.publicUrl ?? address} in a browser. Press Ctrl+C to stop it.`,
  );
  // The first read loads the query builder; better now than while somebody waits.
  await isStoreReady(store);
  void staves.prepare(...[...content.instruments.values()].map(({ instrument }) => instrument));
}

async function isStoreReady(store: RunStore): Promise<boolean> {
  try {
    await store.check();
    return true;
  } catch {
    return false;
  }
}

/** What a person at the terminal can act on is said in one sentence; anything else is a fault of ours and shown whole. */
function explainFailure(error: unknown): string | undefined {
  if (error instanceof ConfigError || error instanceof ContentError || error instanceof StoreError)
    return error.message;
  if (error instanceof Error && 'code' in error && error.code === 'EADDRINUSE') {
    return 'Another program already uses this port. Stop it, or choose another port with the variable PORT, for example PORT=3001.';
  }
  if (
    error instanceof Error &&
    'code' in error &&
    (error.code === 'EACCES' || error.code === 'EADDRNOTAVAIL')
  ) {
    return 'This address or port cannot be used here. Check the variables HOST and PORT.';
  }
  return undefined;
}

try {
  await start();
} catch (error) {
  const sentence = explainFailure(error);
  console.error(sentence ?? error);
  process.exit(1);
}
