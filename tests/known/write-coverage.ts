/** `npm run coverage`: writes the table of what is known of each instrument into DEVELOPERS.md. */
import { readFileSync, writeFileSync } from 'node:fs';
import { loadContent } from '../../src/content/index.ts';
import { replaceMarked } from '../support/marked-place.ts';
import { coverageTable } from './coverage-table.ts';

const root = new URL('../../', import.meta.url).pathname;
const file = `${root}DEVELOPERS.md`;
const table = coverageTable(loadContent(`${root}flows`)).join('\n');
writeFileSync(file, replaceMarked(readFileSync(file, 'utf8'), 'coverage', table));
console.log(table);
