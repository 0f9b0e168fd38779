/** Whether the files fit each other: what one names, another must have. */
import { findVocabularyProblems } from '../complaint/index.ts';
import type { Charts } from '../flow/index.ts';
import { SOURCE_MARKS } from '../mechanism/index.ts';
import type { ContentProblem } from './content-error.ts';
import type { Documents, ParsedFiles } from './documents.ts';

/** Every source that a file names but no list of sources has. */
export function checkSources(documents: Documents, known: ReadonlySet<string>): ContentProblem[] {
  const marks: readonly string[] = SOURCE_MARKS;
  const problems: ContentProblem[] = [];
  const visit = (file: string, value: unknown, path: (string | number)[]): void => {
    if (Array.isArray(value)) {
      for (const [index, item] of value.entries()) visit(file, item, [...path, index]);
    } else if (value !== null && typeof value === 'object') {
      for (const [key, item] of Object.entries(value)) {
        if (key !== 'source') visit(file, item, [...path, key]);
        else checkList(file, item, [...path, key]);
      }
    }
  };
  const checkList = (file: string, list: unknown, path: (string | number)[]): void => {
    for (const [index, id] of [list].flat().entries()) {
      if (typeof id !== 'string' || known.has(id) || marks.includes(id)) continue;
      problems.push({
        file,
        path: [...path, index],
        message: `names the source "${id}", which no list of sources has; add it to sources.yaml, or write ${marks.map((mark) => `'${mark}'`).join(', ')}`,
      });
    }
  };
  for (const [file, document] of Object.entries(documents)) visit(file, document, []);
  return problems;
}

/** Whether what faults.yaml says about mending fits the procedures, the jobs and the levels of urgency. */
export function checkTreatments(files: ParsedFiles, charts: Charts): ContentProblem[] {
  const kinds = files.single['faults.yaml']?.kinds ?? [];
  const problems: ContentProblem[] = [];
  const jobs = new Set(charts.jobs.jobs.map((job) => job.id));
  const urgencies = new Set(charts.jobs.urgencies.map((urgency) => urgency.id));
  const used = new Set<string>();
  for (const [index, entry] of kinds.entries()) {
    const report = (path: (string | number)[], message: string) =>
      problems.push({
        file: 'faults.yaml',
        path: ['kinds', index, ...path],
        message: `kind ${entry.kind}: ${message}`,
      });
    if (!jobs.has(entry.job))
      report(['job'], `names the job "${entry.job}"; jobs.yaml has ${[...jobs].join(', ')}`);
    if (!urgencies.has(entry.urgency))
      report(['urgency'], `names the urgency "${entry.urgency}"; jobs.yaml has ${[...urgencies].join(', ')}`);
    for (const [at, treatment] of entry.treatments.entries()) {
      used.add(treatment.procedure);
      const chart = files.procedures.get(treatment.procedure);
      const path = ['treatments', at, 'procedure'];
      if (chart === undefined) {
        report(
          path,
          `is treated by "${treatment.procedure}"; there is no procedures/${treatment.procedure}.yaml. There are ${[...files.procedures.keys()].join(', ')}`,
        );
      } else if (chart.adjusts !== treatment.adjusts) {
        report(
          ['treatments', at, 'adjusts'],
          `says adjusts: ${treatment.adjusts}, but procedures/${treatment.procedure}.yaml says ${chart.adjusts}; make them the same`,
        );
      } else if (chart.turns !== undefined && treatment.direction === undefined) {
        report(path, 'turns a screw, so it must say under "direction" which way');
      } else if (chart.turns !== undefined && entry.overdone === undefined) {
        report(path, `turns a screw, so it must say under "overdone" which fault too much of it makes`);
      }
    }
  }
  for (const id of files.procedures.keys()) {
    if (!used.has(id))
      problems.push({
        file: `procedures/${id}.yaml`,
        path: ['procedure'],
        message: 'treats no kind of fault; name it in faults.yaml, or delete it',
      });
  }
  return problems;
}

/** Whether the words of complaints fit the checks that there are, and mean one thing each. */
export function checkVocabulary({ single }: ParsedFiles): ContentProblem[] {
  const { 'complaint.yaml': vocabulary, 'checks.yaml': checks } = single;
  if (vocabulary === undefined || checks === undefined) return [];
  return findVocabularyProblems(vocabulary, checks).map((problem) => ({
    file: 'complaint.yaml',
    ...problem,
  }));
}
