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

/** An instrument that is told by what differs from another one shares its mechanism, and is measured with fewer runs. */
const SHARE_OF_VARIANT = 1 / 5;
const SHARE_OF_ROBUSTNESS = 1 / 2;
/** More than 124, so that the bar can be cleared with two misses; see casesNeeded. */
const DANGER_RUNS = 130;

/** What the robustness trials change. */
export const CONDITIONS = {
  'error rates doubled': { weather: { noise: 2, cannotTell: 0 } },
  'a fifth could not be told': { weather: { ...ORDINARY, cannotTell: 0.2 } },
  'flat priors': { isFlat: true },
  'two faults at once': { draw: 'two-faults' },
} as const satisfies Readonly<Record<string, Partial<Order>>>;

/** The trials of the benchmark, by name. @param runs for each person, on an instrument that is told in full. */
export function planTrials(
  { instruments, documents }: Content,
  { runs, from, only }: { readonly runs: number; readonly from: number; readonly only?: readonly string[] },
): Trial[] {
  const ids = [...instruments.keys()].filter((id) => only?.includes(id) ?? true);
  const inFull = ids.filter((id) => !Object.hasOwn(documents, `instruments/${id}/variant.yaml`));
  const series = (instrument: string, person: Person, count: number, more: Partial<Order> = {}): Order[] =>
    Array.from({ length: Math.max(1, Math.round(count)) }, (_, index) => ({
      instrument,
      person,
      seed: from + index,
      ...more,
    }));
  const plain = ids.flatMap((instrument) =>
    PERSONS.map((person) => ({
      name: `${instrument}/${person}`,
      orders: series(instrument, person, inFull.includes(instrument) ? runs : runs * SHARE_OF_VARIANT),
    })),
  );
  const first = inFull[0] ?? ids[0];
  if (first === undefined) return plain;
  const danger = PERSONS.map((person) => ({
    name: `danger/${person}`,
    orders: series(first, person, Math.min(DANGER_RUNS, runs), { draw: 'danger', extent: 'walk' }),
  }));
  const robust = Object.entries(CONDITIONS).map(([name, change]) => ({
    name,
    orders: PERSONS.flatMap((person) =>
      series(first, person, runs * SHARE_OF_ROBUSTNESS, { ...change, extent: 'ceiling' }),
    ),
  }));
  return [...plain, ...danger, ...robust];
}
