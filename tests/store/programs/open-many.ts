// One of several programs that open the same new files at the same moments, one file after another.
// Usage: open-many.ts <directory> <number of files> <time to begin, ms>. Prints how many it opened.
import { join } from 'node:path';
import { openSqliteStore } from '../../../src/store/index.ts';

const [directory = '', files = '', beginning = ''] = process.argv.slice(2);
// Far enough apart that each opening of one program ends before the next begins.
const apart = 60;
let opened = 0;
for (let file = 0; file < Number(files); file += 1) {
  while (Date.now() < Number(beginning) + file * apart);
  await openSqliteStore({ directory: join(directory, String(file)) }).close();
  opened += 1;
}
console.log(opened);
