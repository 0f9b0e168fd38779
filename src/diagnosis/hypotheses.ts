/** What may be the matter: nothing, something unlisted, one fault at a severity, or two faults; each with its prior. */
import {
  type Fault,
  faultId,
  type Instrument,
  type PlacedFault,
  partsOfTube,
  SEVERITIES,
  type Severity,
  severitiesOf,
} from '../mechanism/index.ts';
import type { FrequenciesFile } from './schema.ts';

/** Numbers of the two hypotheses that are no fault of the list. */
export const HEALTHY = 0;
export const SOMETHING_ELSE = 1;
/** Stands for "no fault" where the number of a fault is asked. */
export const NO_FAULT = -1;

/**
 * The exclusive hypotheses by number: 0 healthy, 1 something else, then single faults, then pairs. Pairs stand at
 * moderate severity only: severity changes how much a note suffers and hardly which notes do, so nine combinations of
 * two severities would add cost and say little more.
 */
export type Hypotheses = {
  readonly count: number;
  readonly firstPair: number;
  readonly faults: readonly Fault[];
  /** Number of a fault by its id. */
  readonly faultNumber: ReadonlyMap<string, number>;
  /** Per hypothesis: its faults by number; NO_FAULT where there is none. */
  readonly first: Int16Array;
  readonly second: Int16Array;
  readonly placed: readonly (readonly PlacedFault[])[];
  /** Natural logarithms; the priors sum to 1. */
  readonly logPrior: Float64Array;
  /** Per fault: its single hypothesis in the severity in which it also stands in pairs. */
  readonly middle: Int32Array;
  /** Per fault: every hypothesis that contains it. */
  readonly having: readonly Int32Array[];
  /** Chance of exactly one listed fault, and faults per instrument: what a mended instrument's prior is made from. */
  readonly oneFault: number;
  readonly meanFaults: number;
  /** Prior mass of the pairs that were left out as too rare. */
  readonly leftOut: number;
};

type Row = {
  readonly weight: number;
  readonly faults: readonly number[];
  readonly placed: readonly PlacedFault[];
};

/**
 * Lays out all hypotheses of an instrument. A pair's prior is the product of its faults' shares, times the mean number
 * of faults: what independent faults give (Poisson), as P(i and j) / P(i) = mean x share of j.
 */
export function layOutHypotheses(instrument: Instrument, frequencies: FrequenciesFile): Hypotheses {
  const { faults } = instrument;
  const rates = faultRates(instrument, frequencies);
  const oneFault = sumOf(rates);
  const rows: Row[] = [
    { weight: frequencies.healthy.per100, faults: [], placed: [] },
    { weight: frequencies.somethingElse.per100, faults: [], placed: [] },
  ];
  const middle = faults.map((fault, number) => {
    const singles = singleRows(fault, number, rates[number]!, frequencies);
    const start = rows.push(...singles) - singles.length;
    return start + Math.max(0, severitiesOf(fault).indexOf('moderate'));
  });
  const firstPair = rows.length;
  const meanFaults = frequencies.meanFaults.value;
  const pairs = pairRows(faults, rates, meanFaults, (number) => rows[middle[number]!]!.placed[0]!);
  const total = sumOf(rows.map(({ weight }) => weight)) + sumOf(pairs.map(({ weight }) => weight));
  rows.push(...pairs.filter(({ weight }) => weight / total >= frequencies.rarestPair));
  const kept = sumOf(rows.map(({ weight }) => weight));
  const first = Int16Array.from(rows, (row) => row.faults[0] ?? NO_FAULT);
  const second = Int16Array.from(rows, (row) => row.faults[1] ?? NO_FAULT);
  return {
    count: rows.length,
    firstPair,
    faults,
    faultNumber: new Map(faults.map((fault, number) => [fault.id, number])),
    first,
    second,
    placed: rows.map(({ placed }) => placed),
    logPrior: Float64Array.from(rows, ({ weight }) => Math.log(weight / kept)),
    middle: Int32Array.from(middle),
    having: groupByFault(faults.length, first, second),
    oneFault: oneFault / kept,
    meanFaults,
    leftOut: 1 - kept / total,
  };
}

const sumOf = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0);

/** A fault in each of its severities, its rate shared out between them. */
function singleRows(
  fault: Fault,
  number: number,
  rate: number,
  { severity: { shares } }: FrequenciesFile,
): Row[] {
  const severities = severitiesOf(fault);
  const all = sumOf(severities.map((severity) => shares[severity]));
  return severities.map((severity) => ({
    weight: (rate * shares[severity]) / all,
    faults: [number],
    placed: [{ fault, severity }],
  }));
}

/** Every two faults at different places. */
function pairRows(
  faults: readonly Fault[],
  rates: readonly number[],
  mean: number,
  placedOf: (number: number) => PlacedFault,
): Row[] {
  const all = sumOf(rates);
  return faults.flatMap((fault, one) =>
    faults.slice(one + 1).flatMap(({ place }, offset): Row[] => {
      const other = one + 1 + offset;
      if (fault.place === place) return [];
      return [
        {
          weight: (rates[one]! * rates[other]! * mean) / all,
          faults: [one, other],
          placed: [placedOf(one), placedOf(other)],
        },
      ];
    }),
  );
}

/** Frequency per 100 of every fault, in the instrument's order, each above zero. */
export function faultRates(instrument: Instrument, frequencies: FrequenciesFile): number[] {
  const rates = new Map<string, number>();
  for (const group of frequencies.groups) {
    const entries = group.spread.flatMap(({ kinds, places, weight }) =>
      kinds.flatMap((kind) => places.map((place) => ({ id: faultId(kind, place), weight }))),
    );
    const all = sumOf(entries.map(({ weight }) => weight));
    for (const { id, weight } of entries) rates.set(id, (rates.get(id) ?? 0) + (group.per100 * weight) / all);
  }
  const presence = new Map<string, 'all' | 'most' | 'some'>(
    optionalParts(instrument).map((part) => [part.id, part.presence]),
  );
  return instrument.faults.map(
    ({ id, place }) =>
      (rates.get(id) ?? frequencies.unlisted.per100) * frequencies.presence[presence.get(place) ?? 'all'],
  );
}

/** The parts that only some instruments of the kind may have. */
function optionalParts({ vents, links, tube }: Instrument) {
  return [...vents, ...links, ...partsOfTube(tube)];
}

function groupByFault(faultCount: number, first: Int16Array, second: Int16Array): Int32Array[] {
  const lists = Array.from({ length: faultCount }, (): number[] => []);
  for (let hypothesis = 0; hypothesis < first.length; hypothesis += 1) {
    if (first[hypothesis] !== NO_FAULT) lists[first[hypothesis]!]!.push(hypothesis);
    if (second[hypothesis] !== NO_FAULT) lists[second[hypothesis]!]!.push(hypothesis);
  }
  return lists.map((list) => Int32Array.from(list));
}

/** The severity of a hypothesis that has one fault, as a grade: 1 slight, 2 moderate, 3 gross. */
export function gradeOf(severity: Severity): number {
  return SEVERITIES.indexOf(severity) + 1;
}
