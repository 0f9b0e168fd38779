// Writes until the store says that it cannot, waits for a line on its input, and writes on. Usage: append-until-full.ts <directory>.
// Lines: "stored <revision>", "unavailable <reason>", "not ready, read <revision>", "again <revision>", "done".
import { writeSync } from 'node:fs';
import { createInterface } from 'node:readline';
import { openSqliteStore, StoreUnavailable } from '../../../src/store/index.ts';
import { sampleEdition, sampleEntry, sampleRun } from '../support/samples.ts';

const [directory = ''] = process.argv.slice(2);
const say = (line: string) => writeSync(1, `${line}\n`);
const store = openSqliteStore({ directory });
await store.saveEdition(sampleEdition);
await store.createRun(sampleRun('a'));
const large = (revision: number) =>
  sampleEntry('a', revision, { state: { revision, notes: 'x'.repeat(5000) } });

let revision = 0;
const append = async () => {
  const { outcome } = await store.append(large(revision + 1));
  if (outcome !== 'stored') throw new Error(`The append was ${outcome}.`);
  revision += 1;
};
try {
  for (;;) {
    await append();
    say(`stored ${revision}`);
  }
} catch (error) {
  if (!(error instanceof StoreUnavailable)) throw error;
  say(`unavailable ${error.reason}`);
}
// A small write may fit where an answer did not; when not even that fits, the store is not ready, and can still be read.
let isReady = true;
while (isReady) {
  isReady = await store.check().then(
    () => true,
    () => false,
  );
}
say(`not ready, read ${(await store.readRun('a'))?.revision}`);
for await (const _line of createInterface({ input: process.stdin })) break;
await store.check();
for (let count = 0; count < 20; count += 1) {
  await append();
  say(`again ${revision}`);
}
await store.close();
say('done');
