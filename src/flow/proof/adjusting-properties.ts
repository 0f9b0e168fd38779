/** Proofs about procedures that turn something: they count, they test, they stop, and they can take everything back. */
import { type Chart, listCharts, listMoves } from '../charts.ts';
import type { Branch, State } from '../schema.ts';
import { reachFrom, reverse } from './graph.ts';
import { type Evidence, type Failure, type Property, pathTo, property } from './property.ts';

type Role = 'turn' | 'test' | 'stop-sign' | 'too-far' | 'back-off' | 'put-back';

/** An adjusting chart as a small graph of its pages. */
type Turning = {
  readonly chart: Chart;
  readonly counter: string;
  readonly named: (role: Role) => string[];
  readonly roleOf: (name: string) => Role | undefined;
};

/** Properties of every chart that counts turns. */
export function proveAdjusting({ flow, exploration }: Evidence): Property[] {
  const turning = listCharts(flow.charts).flatMap((chart) => describeTurning(chart) ?? []);
  const each = function* (says: (turning: Turning) => Generator<string>): Generator<Failure> {
    for (const one of turning)
      for (const message of says(one)) yield { message: `${one.chart.file}: ${message}`, path: [] };
  };
  return [
    property(
      'turns-declared',
      'whoever turns anything says what counts the turns',
      listUncounted(listCharts(flow.charts)),
    ),
    property(
      'turns-counted',
      'every turn is counted, and nothing else is counted as one',
      each(checkCounting),
    ),
    property(
      'turns-limited',
      'turning has a limit, and no way leads past it',
      listUnlimited({ flow, exploration }, turning),
    ),
    property('test-after-turn', 'after every turn comes a test, or the putting back', each(checkTests)),
    property('stop-sign', 'a test that finds it gone asks for the sign to stop', each(checkStopSign)),
    property(
      'overshoot',
      'nobody leaves a screw turned without the test for too far, and from there an eighth can be taken back',
      each(checkOvershoot),
    ),
    property(
      'put-back',
      'whatever is turned can be put back from every page',
      listWithoutWayBack({ flow, exploration }, turning),
    ),
    property(
      'turns-accounted',
      'nobody leaves with turns that are neither put back nor told',
      listUnaccounted({ flow, exploration }, turning),
    ),
    property(
      'counted-on-ticket',
      'where turns are left, the run ends with a ticket that tells them',
      listUntold({ flow, exploration }),
    ),
  ];
}

function describeTurning(chart: Chart): Turning[] | undefined {
  const counter = chart.procedure?.turns;
  if (counter === undefined) return undefined;
  const roleOf = (name: string): Role | undefined => roleOfState(chart.states[name]);
  return [
    {
      chart,
      counter,
      roleOf,
      named: (role) => Object.keys(chart.states).filter((name) => roleOf(name) === role),
    },
  ];
}

function roleOfState(state: State | undefined): Role | undefined {
  return state !== undefined && 'role' in state ? state.role : undefined;
}

function* listUncounted(charts: readonly Chart[]): Generator<Failure> {
  for (const chart of charts) {
    const turns = Object.keys(chart.states).filter((name) => roleOfState(chart.states[name]) === 'turn');
    if (turns.length > 0 && chart.procedure?.turns === undefined) {
      yield {
        message: `${chart.file}: ${turns.join(', ')} turns something, but no counter is named under "turns"`,
        path: [],
      };
    }
    if (chart.procedure?.turns !== undefined && turns.length === 0)
      yield { message: `${chart.file}: counts turns, but no page has the role "turn"`, path: [] };
  }
}

function branchesAt({ chart }: Turning, name: string): Branch[] {
  return listMoves(chart, name).flatMap((move) => move.branches);
}

function* checkCounting(turning: Turning): Generator<string> {
  const { chart, counter, roleOf } = turning;
  for (const name of Object.keys(chart.states)) {
    const role = roleOf(name);
    for (const branch of branchesAt(turning, name)) {
      const step = branch.count?.[counter] ?? 0;
      const isOnward = branch.to !== undefined && roleOf(branch.to) === 'test';
      if (role === 'turn' && isOnward && step <= 0)
        yield `${name} goes on to ${branch.to} without counting what was turned`;
      if (role === 'back-off' && isOnward && step >= 0)
        yield `${name} goes on to ${branch.to} without counting what was turned back`;
      if (role !== 'turn' && role !== 'back-off' && step !== 0)
        yield `${name} counts turns although nothing is turned there`;
      const set = branch.set?.[counter];
      if (set !== undefined && (role !== 'put-back' || set !== 0))
        yield `${name} sets the count of turns; only putting back may set it, to 0`;
    }
  }
}

function* checkTests(turning: Turning): Generator<string> {
  for (const name of [...turning.named('turn'), ...turning.named('back-off')]) {
    for (const { to } of branchesAt(turning, name)) {
      const role = to === undefined ? undefined : turning.roleOf(to);
      if (to !== undefined && role !== 'test' && role !== 'put-back')
        yield `${name} goes on to ${to}, which is neither a test nor the putting back`;
    }
  }
}

function* checkStopSign(turning: Turning): Generator<string> {
  if (turning.named('stop-sign').length === 0) yield 'has no page with the role "stop-sign"';
  const tests = turning
    .named('test')
    .filter((name) =>
      branchesAt(turning, name).some(({ to }) => to !== undefined && turning.roleOf(to) === 'turn'),
    );
  for (const name of tests) {
    const hasSign = branchesAt(turning, name).some(
      ({ to }) => to !== undefined && turning.roleOf(to) === 'stop-sign',
    );
    if (!hasSign) yield `${name} can lead to turning on, but never to the sign that says stop`;
  }
}

function* checkOvershoot(turning: Turning): Generator<string> {
  const { chart } = turning;
  const tooFar = turning.named('too-far');
  if (tooFar.length === 0) yield 'has no page with the role "too-far"';
  for (const name of tooFar) {
    const canBackOff = branchesAt(turning, name).some(
      ({ to }) => to !== undefined && turning.roleOf(to) === 'back-off',
    );
    if (!canBackOff) yield `${name} offers no way to take an eighth back`;
  }
  const onwards = (name: string) =>
    tooFar.includes(name) ? [] : branchesAt(turning, name).flatMap(({ to }) => to ?? []);
  for (const name of reachFrom(turning.named('turn'), onwards)) {
    if (tooFar.includes(name)) continue;
    for (const { exit } of branchesAt(turning, name)) {
      if (exit !== undefined && chart.procedure!.exits[exit]?.leaves === 'adjusted') {
        yield `${name} can be reached from turning without the test for too far, and leaves by "${exit}" with the screw turned`;
      }
    }
  }
}

function* listUnlimited({ exploration }: Evidence, turning: readonly Turning[]): Generator<Failure> {
  for (const { chart, counter } of turning) {
    for (const { index, why } of exploration.broken) {
      const { at } = exploration.configurations[index]!;
      if (at.startsWith(chart.prefix) && why.includes(`"${counter}"`))
        yield { message: `${at}: ${why}`, path: pathTo(exploration, index) };
    }
  }
}

function* listWithoutWayBack({ exploration }: Evidence, turning: readonly Turning[]): Generator<Failure> {
  const { configurations, shape } = exploration;
  for (const { chart, counter, roleOf } of turning) {
    const place = shape.variables.indexOf(`memory:${counter}`);
    const inside = configurations.filter(({ at }) => at.startsWith(chart.prefix));
    const next = (index: number) =>
      configurations[index]!.moves.map((move) => move.to).filter((to) =>
        configurations[to]!.at.startsWith(chart.prefix),
      );
    const back = reverse(
      inside.map(({ index }) => index),
      next,
    );
    const puttingBack = inside
      .filter(({ at }) => roleOf(at.slice(chart.prefix.length)) === 'put-back')
      .map(({ index }) => index);
    const canReturn = reachFrom(puttingBack, (index) => back.get(index) ?? []);
    for (const { index, at, row } of inside) {
      const turned = row[place] as number;
      if (turned > 0 && !canReturn.has(index))
        yield {
          message: `at ${at} ${turned} eighths are turned, and no answer leads to putting them back`,
          path: pathTo(exploration, index),
        };
    }
  }
}

function* listUnaccounted({ exploration }: Evidence, turning: readonly Turning[]): Generator<Failure> {
  for (const { chart } of turning) {
    for (const { index, at, moves } of exploration.configurations) {
      if (!at.startsWith(chart.prefix)) continue;
      for (const { event, exit } of moves) {
        if (exit === null || exit.turned === 0 || chart.procedure!.exits[exit.name]?.leaves !== 'as-found')
          continue;
        yield {
          message: `"${event}" leaves by "${exit.name}", which says as-found, with ${exit.turned} eighths turned`,
          path: pathTo(exploration, index),
        };
      }
    }
  }
}

function* listUntold({ flow, exploration }: Evidence): Generator<Failure> {
  const { configurations } = exploration;
  const tickets = new Map(flow.charts.outcomes.outcomes.map((outcome) => [outcome.id, outcome.ticket]));
  const counted = new Set<number>();
  for (const { at, moves } of configurations) {
    for (const { to, exit } of moves) {
      const chart =
        exit === null
          ? undefined
          : flow.charts.procedures.find(({ procedure }) => at.includes(`.${procedure}.`));
      if (exit !== null && exit.turned > 0 && chart?.exits[exit.name]?.leaves === 'counted') counted.add(to);
    }
  }
  for (const index of reachFrom(counted, (from) => configurations[from]!.moves.map((move) => move.to))) {
    const state = flow.states.get(configurations[index]!.at);
    if (state?.kind === 'outcome' && tickets.get(state.outcome) !== true) {
      yield {
        message: `a screw is left turned, and the run ends as ${state.outcome}, which has no ticket`,
        path: pathTo(exploration, index),
      };
    }
  }
}
