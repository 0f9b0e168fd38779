/** Everything that the benchmark measures, from the results of its runs. */
import { availableParallelism, cpus } from 'node:os';
import type { Content } from '../../../src/content/index.ts';
import { carryOut } from './crew.ts';
import { cutDown, measureCutDown } from './limits/cut-down.ts';
import { fewestAnswersOf } from './limits/floor.ts';
import { type Endings, endingsOf } from './measures/endings.ts';
import { type Danger, dangerOf, type Report, reportOn, type Safety, safetyOf } from './measures/report.ts';
import type { Result } from './measures/result.ts';
import { mean } from './measures/statistics.ts';
import { PERSONS, type Plan, type Trial } from './plan.ts';

type Named<T> = { readonly name: string; readonly report: T };

export type Figures = {
  readonly runs: number;
  readonly seconds: number;
  readonly machine: string;
  /** Every instrument, every person. */
  readonly all: Report;
  /** All instruments, by person. */
  readonly persons: readonly Named<Report>[];
  readonly families: readonly Named<Report>[];
  /** The first instrument by person, every other one with all persons together. */
  readonly reports: readonly Named<Report>[];
  /** Every instrument by person: few runs each, so for comparing two measurements of the same seeds only. */
  readonly byInstrumentAndPerson: readonly Named<Report>[];
  /** The first instrument, all persons together: what the harder conditions are held against. */
  readonly ordinary: Report;
  readonly robust: readonly Named<Report>[];
  readonly safety: Safety;
  readonly dangers: readonly Named<Danger>[];
  /** How the runs with one and with two hidden faults ended, on all instruments and under all conditions but a danger sign. */
  readonly endings: { readonly one: Endings; readonly two: Endings };
  /** By the name of a report: the fewest answers that information allows. */
  readonly floors: Readonly<Record<string, number>>;
  readonly regret: {
    readonly count: number;
    readonly mean: number;
    readonly worst: number;
    readonly lookingAhead: number;
  };
};

/** Makes the runs of a plan and reckons every figure. @throws what a run throws. */
export async function measure(content: Content, plan: Plan): Promise<Figures> {
  const began = performance.now();
  const all = await carryOut([...plan.plain, ...plan.danger, ...plan.robust].flatMap(({ orders }) => orders));
  let at = 0;
  const take = (trials: readonly Trial[]): Made[] =>
    trials.map((trial) => {
      const results = all.slice(at, at + trial.orders.length);
      at += trial.orders.length;
      return { trial, results };
    });
  // In the order in which they were carried out.
  const plain = take(plan.plain);
  const danger = take(plan.danger);
  const robust = take(plan.robust);
  const reports = plain.map(({ trial, results }) => ({ name: trial.name, report: reportOn(results) }));
  const first = plain.filter(
    ({ trial }) => trial.orders[0]!.instrument === plain[0]!.trial.orders[0]!.instrument,
  );
  const ordinary = plain.flatMap(({ results }) => results);
  const nameOf = (id: string) => content.instruments.get(id)!.instrument.name;
  const familyOf = (id: string) => content.families.get(content.instruments.get(id)!.instrument.family)!.name;
  const walked = [...plain, ...robust].flatMap(({ results }) => results);
  return {
    runs: all.length,
    machine: `${availableParallelism()} of ${cpus()[0]?.model.trim() ?? 'an unknown processor'}, Node ${process.versions.node}`,
    all: reportOn(ordinary),
    persons: reportBy(ordinary, ({ person }) => `All, ${person}`),
    families: reportBy(ordinary, ({ instrument }) => familyOf(instrument)),
    reports,
    byInstrumentAndPerson: reportBy(ordinary, ({ instrument, person }) => `${nameOf(instrument)}, ${person}`),
    ordinary: reportOn(first.flatMap(({ results }) => results)),
    robust: robust.map(({ trial, results }) => ({ name: trial.name, report: reportOn(results) })),
    safety: safetyOf(ordinary),
    dangers: danger.map(({ trial, results }) => ({ name: trial.name, report: dangerOf(results) })),
    endings: {
      one: endingsOf(walked, 1),
      two: endingsOf(walked, 2),
    },
    floors: floorsOf(content, first, reports),
    regret: regretOf(content, first[0]!.trial.orders[0]!.instrument, plan.cutDowns),
    seconds: (performance.now() - began) / 1000,
  };
}

/** Results by what they have in common, in the order in which it first comes. */
function reportBy(results: readonly Result[], nameOf: (result: Result) => string): Named<Report>[] {
  return [...Map.groupBy(results, nameOf)].map(([name, group]) => ({ name, report: reportOn(group) }));
}

type Made = { readonly trial: Trial; readonly results: readonly Result[] };

/** The floor for the first instrument only: it hardly differs between instruments of one kind. */
function floorsOf(
  content: Content,
  first: readonly Made[],
  reports: readonly Named<Report>[],
): Record<string, number> {
  return Object.fromEntries(
    first.map(({ trial }) => {
      const { instrument, person } = trial.orders[0]!;
      const { top1 } = reports.find(({ name }) => name === trial.name)!.report.accuracy.engine;
      return [trial.name, fewestAnswersOf(content.instruments.get(instrument)!.model, person, 1 - top1)];
    }),
  );
}

function regretOf(content: Content, instrument: string, count: number): Figures['regret'] {
  const { model } = content.instruments.get(instrument)!;
  const measured = Array.from({ length: count }, (_, seed) =>
    measureCutDown(model, cutDown(model, PERSONS[seed % PERSONS.length]!, seed)),
  );
  const ratios = measured.map(({ engine, optimum }) => engine / optimum);
  return {
    count,
    mean: mean(ratios),
    worst: Math.max(...ratios),
    lookingAhead: mean(measured.map(({ lookingAhead, optimum }) => lookingAhead / optimum)),
  };
}
