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
  const { kinds = [], also = [] } = files.single['faults.yaml'] ?? {};
  const problems: ContentProblem[] = [];
  const jobs = new Set(charts.jobs.jobs.map((job) => job.id));
  const urgencies = new Set(charts.jobs.urgencies.map((urgency) => urgency.id));
  const known = new Map(kinds.map((entry) => [entry.kind, entry]));
  const used = new Set<string>();
  const parts = [
    ...kinds.map((entry, index) => ({
      list: 'kinds',
      index,
      entry,
      own: entry,
      tellings: [{ path: [] as string[], told: entry }],
    })),
    ...also.map((entry, index) => ({
      list: 'also',
      index,
      entry,
      own: known.get(entry.kind),
      tellings: [],
    })),
  ];
  for (const { list, index, entry, own, tellings } of parts) {
    const report = (path: (string | number)[], message: string) =>
      problems.push({
        file: 'faults.yaml',
        path: [list, index, ...path],
        message: `kind ${entry.kind}: ${message}`,
      });
    if (own === undefined) report(['kind'], `is added to, but there is no such entry under "kinds"; add one`);
    for (const { path, told } of [
      ...tellings,
      ...entry.told.map((told, at) => ({ path: ['told', at], told })),
    ]) {
      if (told.job !== undefined && !jobs.has(told.job))
        report([...path, 'job'], `names the job "${told.job}"; jobs.yaml has ${[...jobs].join(', ')}`);
      if (told.urgency !== undefined && !urgencies.has(told.urgency))
        report(
          [...path, 'urgency'],
          `names the urgency "${told.urgency}"; jobs.yaml has ${[...urgencies].join(', ')}`,
        );
    }
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
      } else if (chart.turns !== undefined && own !== undefined && own.overdone === undefined) {
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

/** Whether every instrument has its family, and every caution of a family is there. Editions of before families have none. */
export function checkFamilies({ families, instruments, single }: ParsedFiles): ContentProblem[] {
  if (families.size === 0) return [];
  const cautions = new Set(single['cautions.yaml']?.cautions.map(({ id }) => id));
  const homeless = [...instruments].flatMap(([id, { 'mechanism.yaml': mechanism }]) => {
    const family = mechanism?.instrument.family;
    if (family === undefined || families.has(family)) return [];
    const message = `is of the family "${family}", but there is no families/${family}.yaml; there are ${[...families.keys()].join(', ')}`;
    return [{ file: `instruments/${id}/mechanism.yaml`, path: ['instrument', 'family'], message }];
  });
  const unknown = [...families].flatMap(([id, family]) =>
    [...family.cautions.entries()]
      .filter(([, caution]) => !cautions.has(caution))
      .map(([at, caution]) => ({
        file: `families/${id}.yaml`,
        path: ['cautions', at],
        message: `names the caution "${caution}", which cautions.yaml has not`,
      })),
  );
  return [...homeless, ...unknown];
}
