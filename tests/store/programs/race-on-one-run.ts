// One of several programs that answer the same run: reads where it stands and tries to be the next, until it has won often
// enough. Usage: race-on-one-run.ts <directory> <name> <wins> <time to begin, ms>. Prints the revisions that it won.
import { openSqliteStore } from '../../../src/store/index.ts';
import { sampleEdition, sampleEntry, sampleRun } from '../support/samples.ts';

const [directory = '', name = '', wins = '', beginning = ''] = process.argv.slice(2);
await import('../../../src/store/sqlite/reader.ts');
// All begin at the same moment, so that making the file is a race as well.
while (Date.now() < Number(beginning));
const store = openSqliteStore({ directory, busyTimeout: 20_000 });
await store.saveEdition(sampleEdition);
await store.createRun(sampleRun('a'));
const won: number[] = [];
while (won.length < Number(wins)) {
  const revision = ((await store.readRun('a'))?.revision ?? Number.NaN) + 1;
  const entry = sampleEntry('a', revision, { key: `${name}-${won.length}` });
  const { outcome } = await store.append(entry);
  if (outcome === 'stored') won.push(revision);
  else if (outcome !== 'stale') throw new Error(`The append was ${outcome}.`);
}
await store.close();
console.log(JSON.stringify(won));
