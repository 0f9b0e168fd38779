// Opens a store as an unprivileged user (the super-user may write anywhere) and appends to the run "a", making it if needed.
// Usage: open-and-append.ts <directory>. Prints one line of JSON: the outcome, or the error's name and reason.
import { openSqliteStore, StoreError } from '../../../src/store/index.ts';
import { nobody } from '../support/nobody.ts';
import { sampleEdition, sampleEntry, sampleRun } from '../support/samples.ts';

// Everything is loaded before the privileges go: the source may lie where only its owner can read.
await import('../../../src/store/sqlite/reader.ts');
if (process.getuid?.() === 0) {
  process.setgid?.(nobody);
  process.setuid?.(nobody);
}
const [directory = ''] = process.argv.slice(2);
try {
  const store = openSqliteStore({ directory });
  await store.saveEdition(sampleEdition);
  await store.createRun(sampleRun('a'));
  const revision = (await store.readRun('a'))?.revision ?? 0;
  console.log(JSON.stringify(await store.append(sampleEntry('a', revision + 1))));
  await store.close();
} catch (error) {
  if (!(error instanceof StoreError)) throw error;
  console.log(JSON.stringify({ ...error, message: error.message }));
}
