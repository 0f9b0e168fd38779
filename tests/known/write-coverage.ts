/** `npm run coverage`: writes the table of what is known of each instrument into DEVELOPERS.md. */
import { readFileSync, writeFileSync } from 'node:fs';
import { loadContent } from '../../src/content/index.ts';
import { coverageTable } from './coverage-table.ts';
import { findCoverage } from './find-coverage.ts';

const root = new URL('../../', import.meta.url).pathname;
const file = `${root}DEVELOPERS.md`;
const text = readFileSync(file, 'utf8');
const { from, to } = findCoverage(text);
const table = coverageTable(loadContent(`${root}flows`)).join('\n');
writeFileSync(file, `${text.slice(0, from)}\n${table}\n${text.slice(to)}`);
console.log(table);
