/**
 * `npm run flows`: reads everything under flows/, proves the charts, and says what breaks a property and by which way. Takes
 * another folder as argument; with --charts it leaves out instruments and diagnosis.
 */
import { parseArgs } from 'node:util';
import { ContentError, demandPlainWords, loadContent, loadFlow, tellProblem } from '../content/index.ts';
import { type ProofReport, proveFlow } from '../flow/index.ts';

const { values, positionals } = parseArgs({
  options: { charts: { type: 'boolean', default: false } },
  allowPositionals: true,
});
const folder = positionals[0] ?? new URL('../../flows', import.meta.url).pathname;

/** The report as lines of text. */
function tellReport({ properties, size, holds }: ProofReport): string[] {
  const lines = properties.flatMap(({ id, says, failures }) => [
    `${failures.length === 0 ? 'OK    ' : 'FAILED'}  ${id.padEnd(20)} ${says}`,
    ...failures.flatMap(({ message, path }) => [
      `        ${message}`,
      ...path.map((step) => `          ${step}`),
    ]),
  ]);
  const counts =
    size === null
      ? []
      : [
          `${size.states} states, ${size.branches} branches, ${size.transitions} transitions, ${size.transitionPairs} pairs of transitions`,
          `${size.configurations} configurations and ${size.moves} moves between them`,
          `longest procedure: ${size.longestProcedure} pages`,
        ];
  return [...counts, ...lines, holds ? 'All properties hold.' : 'Some properties do not hold.'];
}

try {
  demandPlainWords(folder);
  const { flow } = values.charts ? loadFlow(folder) : loadContent(folder);
  const report = proveFlow(flow);
  console.log(tellReport(report).join('\n'));
  process.exitCode = report.holds ? 0 : 1;
} catch (error) {
  if (!(error instanceof ContentError)) throw error;
  console.error(
    [
      'The files under flows/ need attention:',
      ...error.problems.map((problem) => `  ${tellProblem(problem)}`),
    ].join('\n'),
  );
  process.exitCode = 1;
}
