/** Whether the data files of the diagnosis fit each other and the instrument. */
import { faultId, type Instrument } from '../mechanism/index.ts';
import { namedAnswers } from './catalogue.ts';
import { fitsPlace, WHOLE_INSTRUMENT } from './places.ts';
import type { CheckKind, FaultKindEntry, Knowledge, PlaceFilter } from './schema.ts';

/** One mismatch: in which file and where, and what to do. */
export type KnowledgeProblem = { readonly file: string; readonly where: string; readonly message: string };

/** Thrown when the data files do not fit together; the message lists every mismatch. */
export class KnowledgeError extends Error {
  readonly problems: readonly KnowledgeProblem[];

  constructor(problems: readonly KnowledgeProblem[]) {
    super(problems.map(({ file, where, message }) => `${file}, ${where}: ${message}`).join('\n'));
    this.name = 'KnowledgeError';
    this.problems = problems;
  }
}

/** Every mismatch, in the order of the files; empty when all is well. */
export function findKnowledgeProblems(instrument: Instrument, knowledge: Knowledge): KnowledgeProblem[] {
  const checks = new Map(knowledge.checks.kinds.map((kind) => [kind.id, kind]));
  return [
    ...knowledge.faults.kinds.flatMap((entry) => faultProblems(entry, checks)),
    ...missingKinds(instrument, knowledge),
    ...unconfirmed(instrument, knowledge, checks),
    ...knowledge.checks.kinds.flatMap((kind) => checkProblems(kind, knowledge)),
    ...frequencyProblems(instrument, knowledge),
  ];
}

const inFaults = (kind: string, message: string) => ({ file: 'faults.yaml', where: `kind ${kind}`, message });

function faultProblems(entry: FaultKindEntry, checks: ReadonlyMap<string, CheckKind>): KnowledgeProblem[] {
  const pairs = [
    ...entry.confirm.map(({ check, saw }) => [check, saw] as const),
    ...Object.entries(entry.signs).map(([check, saw]) => [check, saw] as const),
  ];
  return pairs.flatMap(([check, saw]) => {
    const kind = checks.get(check);
    if (kind === undefined) {
      return [
        inFaults(
          entry.kind,
          `names the check "${check}", which checks.yaml does not have; add it there or correct the name`,
        ),
      ];
    }
    if (kind.answers.some(({ id }) => id === saw)) return [];
    const known = kind.answers.map(({ id }) => id).join(', ');
    return [inFaults(entry.kind, `the check "${check}" has no answer "${saw}"; it has ${known}`)];
  });
}

function missingKinds(instrument: Instrument, { faults }: Knowledge): KnowledgeProblem[] {
  const known = new Set<string>(faults.kinds.map(({ kind }) => kind));
  const missing = new Set(instrument.faults.map(({ kind }) => kind).filter((kind) => !known.has(kind)));
  return [...missing].map((kind) =>
    inFaults(kind, 'is missing, but the instrument can have such a fault; add an entry for it'),
  );
}

/** Every fault needs a check of its own that can prove it, or nothing could ever be done about it. */
function unconfirmed(
  instrument: Instrument,
  { faults }: Knowledge,
  checks: ReadonlyMap<string, CheckKind>,
): KnowledgeProblem[] {
  return instrument.faults.flatMap(({ kind, place, id }) => {
    const entry = faults.kinds.find((candidate) => candidate.kind === kind);
    const proves = entry?.confirm.some(({ check }) => {
      const checkKind = checks.get(check);
      const fits = (filters: readonly PlaceFilter[], at: string) =>
        filters.some((filter) => fitsPlace(instrument, filter, at));
      if (checkKind === undefined) return false;
      const covered = checkKind.rule.by === 'sign' ? (checkKind.rule.covers ?? []) : [];
      return fits(checkKind.at, place) || (fits(checkKind.at, WHOLE_INSTRUMENT) && fits(covered, place));
    });
    if (entry === undefined || proves) return [];
    return [inFaults(kind, `has no confirming check that fits ${place} (${id}); add one whose "at" fits it`)];
  });
}

function checkProblems(kind: CheckKind, { people }: Knowledge): KnowledgeProblem[] {
  const problem = (message: string) => ({ file: 'checks.yaml', where: `check ${kind.id}`, message });
  const answers = kind.answers.map(({ id }) => id);
  return [
    ...(people.senses[kind.sense] === undefined
      ? [
          problem(
            `has the sense "${kind.sense}", which people.yaml does not have; it has ${Object.keys(people.senses).join(', ')}`,
          ),
        ]
      : []),
    ...namedAnswers(kind)
      .filter((id) => !answers.includes(id))
      .map((id) =>
        problem(`its rule names the answer "${id}", which is not among its answers: ${answers.join(', ')}`),
      ),
  ];
}

function frequencyProblems(instrument: Instrument, { frequencies }: Knowledge): KnowledgeProblem[] {
  const known = new Set(instrument.faults.map(({ id }) => id));
  return frequencies.groups.flatMap(({ name, spread }) =>
    spread.flatMap(({ kinds, places }) =>
      kinds
        .flatMap((kind) => places.map((place) => faultId(kind, place)))
        .filter((id) => !known.has(id))
        .map((id) => ({
          file: 'frequencies.yaml',
          where: `group "${name}"`,
          message: `${id} is no fault of this instrument; correct the kind or the place`,
        })),
    ),
  );
}
