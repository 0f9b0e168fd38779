// Ten writes, one after another, each followed by a line once it was acknowledged: for watching the system calls between.
// Usage: append-and-tell.ts <data directory> <store | driver>. With `driver` the writes go to the same file through the bare
// database driver with the durability setting that it comes with: what must not happen.
import { writeSync } from 'node:fs';
import Database from 'better-sqlite3';
import { openSqliteStore } from '../../../src/store/index.ts';
import { databasePath } from '../support/places.ts';
import { sampleEdition, sampleEntry, sampleRun } from '../support/samples.ts';

const [directory = '', way = ''] = process.argv.slice(2);
const tell = (number: number) => writeSync(1, `acknowledged ${number}\n`);

const store = openSqliteStore({ directory });
await store.saveEdition(sampleEdition);
await store.createRun(sampleRun('a'));
if (way === 'store') {
  writeSync(1, 'begin\n');
  for (let number = 1; number <= 10; number += 1) {
    await store.append(sampleEntry('a', number));
    tell(number);
  }
} else {
  const database = new Database(databasePath(directory));
  const write = database.prepare('INSERT INTO editions (version, content) VALUES (?, ?)');
  write.run('first', 'x');
  writeSync(1, 'begin\n');
  for (let number = 1; number <= 10; number += 1) {
    write.run(`driver-${number}`, 'x');
    tell(number);
  }
  database.close();
}
await store.close();
