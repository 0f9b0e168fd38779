/** What is demanded of the files of today, though older editions, which open runs keep, load without it. */
import { MainFile, ProcedureFile } from '../flow/index.ts';
import type { ContentProblem } from './content-error.ts';
import type { Documents } from './documents.ts';

const advice =
  'has no "plainly": say it once more in short, kind words, for somebody who has never held a screwdriver to an instrument';

/**
 * Every step, check and caution that cannot be said more plainly or more briefly, and every procedure that does not say
 * what was done. Files that do not fit their schemas are passed over; they are told of elsewhere.
 */
export function findUnplainTexts(documents: Documents): ContentProblem[] {
  const problems: ContentProblem[] = [];
  if (!Object.hasOwn(documents, 'words.yaml'))
    problems.push({ file: 'words.yaml', path: [], message: 'is missing: it holds the words of the trade' });
  for (const [file, document] of Object.entries(documents)) {
    const chart = file === 'main.yaml' ? MainFile.safeParse(document) : ProcedureFile.safeParse(document);
    for (const [name, state] of Object.entries(chart.data?.states ?? {})) {
      // At a check it is the check that has the words.
      const asks =
        state.kind === 'question' ||
        state.kind === 'instruction' ||
        state.kind === 'proposals' ||
        state.kind === 'notes';
      if (asks && state.plainly === undefined)
        problems.push({ file, state: name, path: ['states', name], message: advice });
    }
    if (chart.data !== undefined && 'procedure' in chart.data && chart.data.done === undefined)
      problems.push({ file, path: ['procedure'], message: 'has no "done": say in a sentence what was done' });
  }
  const checks = documents['checks.yaml'] as { playNote?: object; kinds?: { id?: string }[] } | undefined;
  if (checks?.playNote !== undefined && !Object.hasOwn(checks.playNote, 'plainly'))
    problems.push({ file: 'checks.yaml', path: ['playNote'], message: advice });
  for (const [index, kind] of (checks?.kinds ?? []).entries()) {
    if (!Object.hasOwn(kind, 'plainly'))
      problems.push({ file: 'checks.yaml', path: ['kinds', index], message: `check ${kind.id}: ${advice}` });
  }
  const cautions = documents['cautions.yaml'] as { cautions?: { id?: string }[] } | undefined;
  for (const [index, caution] of (cautions?.cautions ?? []).entries()) {
    if (!Object.hasOwn(caution, 'brief'))
      problems.push({
        file: 'cautions.yaml',
        path: ['cautions', index],
        message: `caution ${caution.id}: has no "brief": say it in a few words`,
      });
  }
  return problems;
}
