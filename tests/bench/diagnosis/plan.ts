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
  /** By instrument and person; an instrument that is told by what differs from another one, all persons together. */
  readonly plain: readonly Trial[];
  /** By person, on the first instrument, each with a danger sign. */
  readonly danger: readonly Trial[];
  /** By condition, on the first instrument. */
  readonly robust: readonly Trial[];
  /** So many small instruments are cut out of the first one. */
  readonly cutDowns: number;
};

/** An instrument that is told by what differs from another one shares its mechanism, and is measured with fewer runs. */
const SHARE_OF_VARIANT = 1 / 5;
const SHARE_OF_ROBUSTNESS = 1 / 2;
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

/** The runs of the benchmark. @param only leaves out all other instruments; at least one must be left. @param runs for each person, on an instrument that is told in full. */
export function planRuns(
  { instruments, documents }: Content,
  { runs, from, only }: { readonly runs: number; readonly from: number; readonly only?: readonly string[] },
): Plan {
  const ids = [...instruments.keys()].filter((id) => only?.includes(id) ?? true);
  const inFull = ids.filter((id) => !Object.hasOwn(documents, `instruments/${id}/variant.yaml`));
  const series = (instrument: string, person: Person, count: number, more: Partial<Order> = {}): Order[] =>
    Array.from({ length: Math.max(1, Math.round(count)) }, (_, index) => ({
      instrument,
      person,
      seed: from + index,
      ...more,
    }));
  const nameOf = (instrument: string) => instruments.get(instrument)!.instrument.name;
  const plain = ids.flatMap((instrument) =>
    inFull.includes(instrument)
      ? PERSONS.map((person) => ({
          name: `${nameOf(instrument)}, ${person}`,
          orders: series(instrument, person, runs),
        }))
      : [
          {
            name: `${nameOf(instrument)}, all three`,
            orders: PERSONS.flatMap((person) => series(instrument, person, runs * SHARE_OF_VARIANT)),
          },
        ],
  );
  const first = inFull[0] ?? ids[0];
  if (first === undefined) throw new RangeError('there is no instrument to measure');
  const danger = PERSONS.map((person) => ({
    name: `${person}`,
    orders: series(first, person, Math.min(DANGER_RUNS, runs), { draw: 'danger', extent: 'walk' }),
  }));
  const robust = Object.entries(CONDITIONS).map(([name, change]) => ({
    name,
    orders: PERSONS.flatMap((person) =>
      series(first, person, runs * SHARE_OF_ROBUSTNESS, { ...change, extent: 'ceiling' }),
    ),
  }));
  return { plain, danger, robust, cutDowns: Math.min(CUT_DOWNS, runs) };
}
