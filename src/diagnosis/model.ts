/** The diagnosis model of one instrument: hypotheses, checks, predictions, error rates. Built once, shared by all runs. */
import type { Instrument } from '../mechanism/index.ts';
import { answerRows, countCodes } from './answering.ts';
import { makeChecks } from './catalogue.ts';
import type { Check, PlannedCheck } from './check.ts';
import { foldAdditions } from './faults-schema.ts';
import { type Hypotheses, layOutHypotheses, NO_FAULT } from './hypotheses.ts';
import { findKnowledgeProblems, KnowledgeError } from './knowledge.ts';
import type { ShortDegree } from './people-schema.ts';
import { fitsPlace } from './places.ts';
import { type Predictions, type Predictor, startPredictions } from './prediction.ts';
import type { FaultKindEntry, Knowledge, Person } from './schema.ts';
import { createVentMemory } from './vent-memory.ts';

/** Not to be changed from outside. Predictions are worked out when first asked for and then kept. */
export type DiagnosisModel = {
  readonly instrument: Instrument;
  readonly knowledge: Knowledge;
  /** Everything that can be asked of a person, the notes first. */
  readonly checks: readonly Check[];
  /** @throws RangeError for an unknown check; lists near ones. */
  check(id: string): Check;
  hasCheck(id: string): boolean;
  readonly hypotheses: Hypotheses;
  /** What the data say about a fault's kind, as it is told at its place. */
  kindOf(fault: number): FaultKindEntry;
  readonly predictor: Predictor;
  /** Predictions of a check, by its position in `checks`. */
  predictions(position: number): Predictions;
  positionOf(check: string): number;
  /** Chances of the answers by code and person, also of one whom the note fails so much; grows with the codes. */
  rows(position: number, person: Person, short?: ShortDegree | null): readonly Float64Array[];
};

/**
 * Builds the model. Takes some tens of milliseconds; predictions follow on demand.
 * @throws KnowledgeError that lists every mismatch between the data files and what to do about it.
 */
export function buildDiagnosisModel(instrument: Instrument, written: Knowledge): DiagnosisModel {
  const knowledge = foldKnowledge(instrument, written);
  const hypotheses = layOutHypotheses(instrument, knowledge.frequencies);
  const planned = planChecks(instrument, knowledge);
  const kinds = new Map(knowledge.faults.kinds.map((entry) => [entry.kind, entry]));
  const entries = hypotheses.faults.map(({ kind, place }) => tellAt(instrument, kinds.get(kind)!, place));
  const kindOf = (fault: number) => entries[fault]!;
  const predictor: Predictor = {
    instrument,
    hypotheses,
    vents: createVentMemory(instrument, hypotheses),
    displaced: displacedOf(hypotheses, (fault) => kindOf(fault).showsAsGap),
  };
  const positions = new Map(planned.map(({ check }, position) => [check.id, position]));
  const positionOf = (id: string) => {
    const position = positions.get(id);
    if (position === undefined) throw new RangeError(`There is no check "${id}"${nearby(planned, id)}`);
    return position;
  };
  const memory: (Predictions | undefined)[] = [];
  const rowMemory = new Map<string, Float64Array[][]>();

  function predictions(position: number): Predictions {
    memory[position] ??= startPredictions(predictor, planned[position]!);
    return memory[position];
  }

  const model: DiagnosisModel = {
    instrument,
    knowledge,
    checks: planned.map(({ check }) => check),
    check: (id) => planned[positionOf(id)]!.check,
    hasCheck: (id) => positions.has(id),
    hypotheses,
    kindOf,
    predictor,
    predictions,
    positionOf,
    rows(position, person, short = null) {
      const key = short === null ? person : `${person} ${short}`;
      const known = rowMemory.get(key) ?? [];
      rowMemory.set(key, known);
      const current = predictions(position);
      const rows = known[position];
      if (rows === undefined || rows.length < countCodes(current)) {
        known[position] = answerRows(model, current, person, short);
      }
      return known[position]!;
    },
  };
  return model;
}

/** Per hypothesis: the one that keeps only the faults that show as a gap (0, healthy, when none does). */
function displacedOf(
  { first, second, middle, count }: Hypotheses,
  isSeen: (fault: number) => boolean,
): Int32Array {
  return Int32Array.from({ length: count }, (_, hypothesis) => {
    const faults = [first[hypothesis]!, second[hypothesis]!].filter((fault) => fault !== NO_FAULT);
    const seen = faults.filter(isSeen);
    if (seen.length === faults.length) return hypothesis;
    return seen.length === 0 ? 0 : middle[seen[0]!]!;
  });
}

/**
 * Whether a model can be built, without the cost of building it.
 * @throws KnowledgeError as {@link buildDiagnosisModel}
 */
export function checkKnowledge(instrument: Instrument, written: Knowledge): void {
  planChecks(instrument, foldKnowledge(instrument, written));
}

function foldKnowledge(instrument: Instrument, written: Knowledge): Knowledge {
  const knowledge = { ...written, faults: { kinds: foldAdditions(written.faults) } };
  const problems = findKnowledgeProblems(instrument, knowledge);
  if (problems.length > 0) throw new KnowledgeError(problems);
  return knowledge;
}

/** @throws KnowledgeError where a check leaves a blank that neither the part nor the family fills */
function planChecks(instrument: Instrument, knowledge: Knowledge): PlannedCheck[] {
  try {
    return makeChecks(instrument, knowledge);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new KnowledgeError([
      { file: 'checks.yaml', where: `for the ${instrument.name}`, message: error.message },
    ]);
  }
}

/** A kind of fault in the words for this place. */
function tellAt(instrument: Instrument, entry: FaultKindEntry, place: string): FaultKindEntry {
  const told = entry.told.find(({ at }) => fitsPlace(instrument, at, place));
  if (told === undefined) return entry;
  const { at: _, ...words } = told;
  return { ...entry, ...words } as FaultKindEntry;
}

function nearby(planned: readonly PlannedCheck[], id: string): string {
  const [kind, place] = id.split('@');
  const near = planned.filter(
    ({ check }) => check.place === place || (place === undefined && check.kind === kind),
  );
  return near.length === 0 ? '' : `; known there: ${near.map(({ check }) => check.id).join(', ')}`;
}
