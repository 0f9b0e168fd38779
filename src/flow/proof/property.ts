/** What a proof is made of: a property, and what speaks against it. */
import { type Chart, type Charts, listCharts } from '../charts.ts';
import type { Flow } from '../flow.ts';
import type { Configuration, Exploration } from './explore.ts';

/** Something that breaks a property; `path` is a shortest way there, one line a step, where there is one. */
export type Failure = { readonly message: string; readonly path: readonly string[] };

/** A property and whether it holds. */
export type Property = { readonly id: string; readonly says: string; readonly failures: readonly Failure[] };

/** What the properties are asked of. */
export type Evidence = { readonly flow: Flow; readonly exploration: Exploration };

/** No more failures than this are told of one property. */
const MOST_FAILURES = 3;

/** A property that fails wherever the search through the configurations finds something to say. */
export function property(id: string, says: string, failures: Iterable<Failure>): Property {
  const told: Failure[] = [];
  for (const failure of failures) if (told.push(failure) === MOST_FAILURES) break;
  return { id, says, failures: told };
}

/** The shortest way to a configuration, one line a step: where one is, and what is said there. */
export function pathTo({ configurations }: Exploration, index: number): string[] {
  const steps: string[] = [];
  let here = configurations[index]!;
  steps.push(here.at);
  while (here.from !== null) {
    const { index: before, event } = here.from;
    here = configurations[before]!;
    steps.push(`${here.at}: ${event}`);
  }
  return [`begin as ${String(here.row[0])}`, ...steps.reverse()];
}

/** Failures at every configuration for which `says` has something to say. */
export function* everywhere(
  exploration: Exploration,
  says: (configuration: Configuration, of: (name: string) => unknown) => string | undefined,
): Generator<Failure> {
  const places = new Map(exploration.shape.variables.map((name, index) => [name, index]));
  for (const configuration of exploration.configurations) {
    const message = says(configuration, (name) => configuration.row[places.get(name)!]);
    if (message !== undefined) yield { message, path: pathTo(exploration, configuration.index) };
  }
}

/** Finds the chart of a state path, and the state's name in it. */
export function chartFinder(charts: Charts): (at: string) => { chart: Chart; name: string } {
  const [main, ...inner] = listCharts(charts) as [Chart, ...Chart[]];
  return (at) => {
    const chart = inner.find(({ prefix }) => at.startsWith(prefix)) ?? main;
    return { chart, name: at.slice(chart.prefix.length) };
  };
}
