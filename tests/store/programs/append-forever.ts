// A program to be killed: sixteen writers, each on a run of its own, that say what they send and what was acknowledged.
// Usage: append-forever.ts <data directory> <name of this round>. Lines: "sent <run> <key>", "stored <run> <key> <revision>".
import { writeSync } from 'node:fs';
import { openSqliteStore } from '../../../src/store/index.ts';
import { sampleEdition, sampleEntry, sampleRun } from '../support/samples.ts';

const [directory = '', round = ''] = process.argv.slice(2);
const say = (line: string) => writeSync(1, `${line}\n`);
const store = openSqliteStore({ directory });
await store.saveEdition(sampleEdition);

async function writeForever(id: string): Promise<never> {
  say(`sent ${id} open`);
  await store.createRun(sampleRun(id));
  say(`stored ${id} open 0`);
  let revision = (await store.readRun(id))?.revision ?? Number.NaN;
  for (;;) {
    revision += 1;
    const key = `${round}-${revision}`;
    say(`sent ${id} ${key}`);
    const entry = sampleEntry(id, revision, { key, state: { key, notes: 'x'.repeat(500) } });
    const { outcome } = await store.append(entry);
    if (outcome !== 'stored') throw new Error(`The append ${key} of ${id} was ${outcome}.`);
    say(`stored ${id} ${key} ${revision}`);
  }
}

await Promise.all(Array.from({ length: 16 }, (_, index) => writeForever(`run-${index}`)));
