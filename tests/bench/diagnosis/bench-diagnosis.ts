/** `npm run bench:diagnosis`: how good the diagnosis is, on simulated instruments and people. */
import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { loadContent } from '../../../src/content/index.ts';
import { carryOut } from './crew.ts';
import { dangerOf, reportOn, safetyOf } from './measures/report.ts';
import type { Result } from './measures/result.ts';
import { FIT_FROM, PERSONS, planTrials, REPORT_FROM } from './plan.ts';
import { accuracyRow, type Row, toMarkdown } from './tables.ts';

const { values: options } = parseArgs({
  options: {
    runs: { type: 'string', default: '200' },
    instrument: { type: 'string', multiple: true },
    fit: { type: 'boolean', default: false },
    json: { type: 'string' },
    markdown: { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
  },
});

if (options.help) {
  console.log(`npm run bench:diagnosis -- [--runs 200] [--instrument <id>]... [--fit] [--json <file or ->] [--markdown]
  --runs        runs for each person on an instrument that is told in full; fewer elsewhere
  --instrument  only this instrument; may be given more than once
  --fit         seeds from ${FIT_FROM}, which the program may be fitted to, instead of those from ${REPORT_FROM}
  --json        writes every figure to a file, or to the standard output with -
  --markdown    prints the tables of README.md`);
  process.exit(0);
}
const runs = Number(options.runs);
if (!Number.isInteger(runs) || runs < 1) {
  console.error(`--runs must be a whole number of at least 1, not "${options.runs}"`);
  process.exit(2);
}

const began = performance.now();
const content = loadContent(new URL('../../../flows/', import.meta.url).pathname);
const only = options.instrument;
const unknown = only?.filter((id) => !content.instruments.has(id)) ?? [];
if (unknown.length > 0) {
  console.error(
    `no instrument ${unknown.join(', ')}; there is: ${[...content.instruments.keys()].join(', ')}`,
  );
  process.exit(2);
}
const trials = planTrials(content, {
  runs,
  from: options.fit ? FIT_FROM : REPORT_FROM,
  ...(only === undefined ? {} : { only }),
});
const all = await carryOut(trials.flatMap(({ orders }) => orders));
const resultsOf = new Map<string, readonly Result[]>();
let at = 0;
for (const { name, orders } of trials) {
  resultsOf.set(name, all.slice(at, at + orders.length));
  at += orders.length;
}

const named = [...resultsOf];
const plain = named.filter(
  ([name]) => PERSONS.some((person) => name.endsWith(`/${person}`)) && !name.startsWith('danger/'),
);
const dangers = named.filter(([name]) => name.startsWith('danger/'));
const robust = named.filter(
  ([name]) => !plain.some(([known]) => known === name) && !name.startsWith('danger/'),
);
const reports = plain.map(([name, results]) => [name, reportOn(results)] as const);
const safety = safetyOf(plain.flatMap(([, results]) => results));
const dangerReports = dangers.map(([name, results]) => [name, dangerOf(results)] as const);
const first = plain.filter(([name]) => name.split('/')[0] === plain[0]![0].split('/')[0]);
const ordinary = reportOn(first.flatMap(([, results]) => results));
const robustReports = robust.map(([name, results]) => [name, reportOn(results)] as const);

const accuracyRows = reports.map(([name, report]) => accuracyRow(name, report));
const robustRows = [['as they come', ordinary] as const, ...robustReports].map(
  ([name, { runs, accuracy, calibration }]): Row => ({
    condition: name,
    runs: `${runs}`,
    'first, %': percent(accuracy.engine.top1),
    'first three, %': percent(accuracy.engine.top3),
    'limit of first three, %': percent(accuracy.ceiling.top3),
    ECE: calibration.engine.calibrationError.toFixed(3),
  }),
);
const safetyRows: Row[] = [
  { what: 'adjusting steps offered', measured: `${safety.offers} in ${safety.runs} runs`, goal: '' },
  { what: '… without the part’s own proof', measured: `${safety.unproved}`, goal: '0' },
  {
    what: '… with it, for a part that is not at fault, per 1000 runs',
    measured: (1000 * safety.wrong).toFixed(1),
    goal: 'under 1',
  },
  {
    what: 'runs that left a good screw turned (untold on the ticket)',
    measured: `${safety.stray} (${safety.strayUntold})`,
    goal: '0 (0)',
  },
  ...dangerReports.map(([name, danger]) => ({
    what: `${name}: sent to the bench at once`,
    measured: `${danger.cases - danger.missed} of ${danger.cases}; adjusting offered after a miss: ${danger.adjusted}`,
    goal: `95 % ${danger.isShown ? 'shown' : 'not shown'}`,
  })),
];

function percent(share: number): string {
  return `${Math.round(100 * share)}`;
}

const seconds = (performance.now() - began) / 1000;
const tables = [accuracyRows, robustRows, safetyRows];
if (options.json !== undefined) {
  const figures = {
    runs,
    from: options.fit ? FIT_FROM : REPORT_FROM,
    seconds,
    reports: Object.fromEntries(reports),
    robust: Object.fromEntries(robustReports),
    safety,
    danger: Object.fromEntries(dangerReports),
  };
  const text = JSON.stringify(figures, null, 2);
  if (options.json === '-') console.log(text);
  else writeFileSync(options.json, `${text}\n`);
}
if (options.markdown) console.log(tables.map(toMarkdown).join('\n\n'));
else if (options.json !== '-') {
  for (const table of tables) console.table(table);
  console.log(`${all.length} runs in ${seconds.toFixed(0)} s`);
}
