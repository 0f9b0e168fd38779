/** `npm run bench:diagnosis`: how good the diagnosis is, on simulated instruments and people. */
import { readFileSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { loadContent } from '../../../src/content/index.ts';
import { replaceMarked } from '../../support/marked-place.ts';
import { measure } from './figures.ts';
import { FIT_FROM, planRuns, REPORT_FROM } from './plan.ts';
import {
  accuracyTable,
  economyTable,
  endingsTable,
  goalTable,
  robustnessTable,
  toMarkdown,
} from './tables.ts';

const { values: options } = parseArgs({
  options: {
    runs: { type: 'string', default: '1800' },
    instrument: { type: 'string', multiple: true },
    fit: { type: 'boolean', default: false },
    json: { type: 'string' },
    write: { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
  },
});

if (options.help) {
  console.log(`npm run bench:diagnosis -- [--runs 1800] [--instrument <id>]... [--fit] [--json <file or ->] [--write]
  --runs        runs altogether, shared out over instruments, persons and conditions; danger signs come on top
  --instrument  only this instrument; may be given more than once
  --fit         seeds from ${FIT_FROM}, which the program may be fitted to, instead of those from ${REPORT_FROM}
  --json        writes every figure to a file, or to the standard output with -
  --write       writes the tables into README.md and DEVELOPERS.md`);
  process.exit(0);
}
const runs = Number(options.runs);
if (!Number.isInteger(runs) || runs < 1) {
  console.error(`--runs must be a whole number of at least 1, not "${options.runs}"`);
  process.exit(2);
}

const content = loadContent(new URL('../../../flows/', import.meta.url).pathname);
const only = options.instrument;
const unknown = only?.filter((id) => !content.instruments.has(id)) ?? [];
if (unknown.length > 0) {
  console.error(
    `no instrument ${unknown.join(', ')}; there is: ${[...content.instruments.keys()].join(', ')}`,
  );
  process.exit(2);
}
const from = options.fit ? FIT_FROM : REPORT_FROM;
const figures = await measure(
  content,
  planRuns(content, { runs, from, ...(only === undefined ? {} : { only }) }),
);
/** For whoever wants to know how good it is, and for whoever wants to make it better. */
const whole = [...figures.persons, ...figures.families];
const summary = [
  goalTable(figures),
  accuracyTable(whole),
  economyTable(whole),
  robustnessTable(figures),
  endingsTable(figures),
];
const each = [accuracyTable(figures.reports), economyTable(figures.reports, figures.floors)];
const told = `${figures.runs} runs, seeds from ${from}, in ${figures.seconds.toFixed(0)} s (${figures.machine})`;

if (options.json !== undefined) {
  const text = JSON.stringify({ from, ...figures }, null, 2);
  if (options.json === '-') console.log(text);
  else writeFileSync(options.json, `${text}\n`);
}
if (options.write) {
  const day = new Date().toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });
  const command = `npm run bench:diagnosis -- ${process.argv.slice(2).join(' ')}`;
  writeTables('README.md', [`Figures of ${day}, \`${command}\`: ${told}.`, ...summary.map(toMarkdown)]);
  writeTables('DEVELOPERS.md', each.map(toMarkdown));
}
if (options.json !== '-') {
  for (const table of [...summary, ...each]) console.table(table);
  console.log(told);
}

function writeTables(document: string, paragraphs: readonly string[]): void {
  const file = new URL(`../../../${document}`, import.meta.url);
  const text = replaceMarked(readFileSync(file, 'utf8'), 'diagnosis', paragraphs.join('\n\n'));
  writeFileSync(file, text);
}
