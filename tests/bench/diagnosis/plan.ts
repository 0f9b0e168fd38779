/** Which runs the benchmark makes. */
import type { Content } from '../../../src/content/index.ts';
import type { Person } from '../../../src/diagnosis/index.ts';
import type { Order } from './run-case.ts';
import { ORDINARY } from './simulator/case.ts';

export const PERSONS: readonly Person[] = ['director', 'helper', 'desk'];

/** Seeds that anybody may fit the program to, and seeds that are only for reporting. */
export const FIT_FROM = 1;
export const REPORT_FROM = 100_001;

export type Trial = { readonly name: string; readonly orders: readonly Order[] };

export type Plan = {
  /** The first instrument by person; every other one, all persons together. */
  readonly plain: readonly Trial[];
  /** By person, on the first instrument, each with a danger sign. */
  readonly danger: readonly Trial[];
  /** By condition, on the first instrument. */
  readonly robust: readonly Trial[];
  /** So many small instruments are cut out of the first one. */
  readonly cutDowns: number;
};

/**
 * How the runs are shared out, by weight: the first instrument with each person apart, the harder conditions on it, every
 * other instrument that is told in full, and every one that is told by what differs from another and shares its mechanism.
 */
const WEIGHTS = { first: 6, robust: 6, inFull: 1, variant: 1 / 3 } as const;
/** More than 124, so that the bar can be cleared with two misses; see casesNeeded. */
const DANGER_RUNS = 150;

/** Small instruments that are solved exactly. */
const CUT_DOWNS = 30;

/** What the robustness trials change. */
export const CONDITIONS = {
  'error rates doubled': { weather: { noise: 2, cannotTell: 0 } },
  'a fifth could not be told': { weather: { ...ORDINARY, cannotTell: 0.2 } },
  'flat priors': { isFlat: true },
  'two faults at once': { draw: 'two-faults' },
} as const satisfies Readonly<Record<string, Partial<Order>>>;

/**
 * The runs of the benchmark, shared out over all instruments, so that it takes as long with many as with few.
 * @param runs altogether, the danger signs not counted. @param only leaves out all other instruments.
 * @throws RangeError when no instrument is left.
 */
export function planRuns(
  { instruments, documents }: Content,
  { runs, from, only }: { readonly runs: number; readonly from: number; readonly only?: readonly string[] },
): Plan {
  const ids = [...instruments.keys()].filter((id) => only?.includes(id) ?? true);
  const isVariant = (id: string) => Object.hasOwn(documents, `instruments/${id}/variant.yaml`);
  const first = ids.find((id) => !isVariant(id)) ?? ids[0];
  if (first === undefined) throw new RangeError('there is no instrument to measure');
  const others = ids.filter((id) => id !== first);
  const weightOf = (id: string) => (isVariant(id) ? WEIGHTS.variant : WEIGHTS.inFull);
  const all = others.reduce((sum, id) => sum + weightOf(id), WEIGHTS.first + WEIGHTS.robust);
  /** The same seeds with every person, as many as the weight gives. */
  const series = (instrument: string, weight: number, more: Partial<Order> = {}): Order[] =>
    PERSONS.flatMap((person) =>
      seedsOf({ instrument, person, ...more }, (runs * weight) / all / PERSONS.length),
    );
  const seedsOf = (order: Omit<Order, 'seed'>, count: number): Order[] =>
    Array.from({ length: Math.max(1, Math.round(count)) }, (_, index) => ({ ...order, seed: from + index }));
  const nameOf = (instrument: string) => instruments.get(instrument)!.instrument.name;
  const ofFirst = Map.groupBy(series(first, WEIGHTS.first), ({ person }) => person);
  const plain = [
    ...[...ofFirst].map(([person, orders]) => ({ name: `${nameOf(first)}, ${person}`, orders })),
    ...others.map((id) => ({ name: `${nameOf(id)}, all three`, orders: series(id, weightOf(id)) })),
  ];
  const danger = PERSONS.map((person) => ({
    name: `${person}`,
    orders: seedsOf(
      { instrument: first, person, draw: 'danger', extent: 'walk' },
      Math.min(DANGER_RUNS, runs),
    ),
  }));
  const conditions = Object.entries(CONDITIONS);
  const robust = conditions.map(([name, change]) => ({
    name,
    orders: series(first, WEIGHTS.robust / conditions.length, { ...change, extent: 'ceiling' }),
  }));
  return { plain, danger, robust, cutDowns: Math.min(CUT_DOWNS, runs) };
}
