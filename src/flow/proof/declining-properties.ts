/** Proofs that nobody has to do what a page asks: declining leads to a safe end. */
import { noNotes } from './alphabet.ts';
import { reachFrom, reverse } from './graph.ts';
import { chartFinder, type Evidence, type Failure, type Property, pathTo, property } from './property.ts';

/** Properties of the quiet answers, by which a person declines what is asked. */
export function proveDeclining(evidence: Evidence): Property[] {
  const declining = decliningMoves(evidence);
  return [
    property(
      'declining-ends',
      'from every page the quiet answers alone lead to an end',
      listEndless(evidence, declining),
    ),
    property(
      'declining-is-safe',
      'a quiet answer after a turn leads to the putting back, or onto the ticket with what is turned',
      listUnsafe(evidence, declining),
    ),
  ];
}

type Moves = (index: number) => readonly Evidence['exploration']['configurations'][number]['moves'][number][];

/** What a person who declines everything can bring about: quiet answers, "could not tell" at a check, no note to play, any verdict. */
function decliningMoves({ flow, exploration: { configurations, shape } }: Evidence): Moves {
  const quiet = new Map<string, ReadonlySet<string>>();
  const quietAt = (index: number): ReadonlySet<string> => {
    const { at, row } = configurations[index]!;
    const step = flow.step({ at, context: shape.toContext(row) });
    const choices = step.choices.filter(({ tone }) => tone === 'quiet').map(({ id }) => `choice ${id}`);
    if (step.kind === 'notes') return new Set([...choices, noNotes.name]);
    return new Set(step.kind === 'check' ? [...choices, 'recorded'] : choices);
  };
  return (index) => {
    const { at, moves } = configurations[index]!;
    const kind = flow.states.get(at)?.kind;
    if (kind === 'weigh' || kind === 'outcome') return moves;
    const events = quiet.get(at) ?? quietAt(index);
    quiet.set(at, events);
    return moves.filter(({ event }) => events.has(event));
  };
}

function* listEndless({ flow, exploration }: Evidence, declining: Moves): Generator<Failure> {
  const { configurations } = exploration;
  const back = reverse(
    configurations.map(({ index }) => index),
    (index) => declining(index).map(({ to }) => to),
  );
  const ends = configurations.filter(({ at }) => flow.states.get(at)?.kind === 'outcome');
  const ending = reachFrom(
    ends.map(({ index }) => index),
    (index) => back.get(index) ?? [],
  );
  for (const { index, at } of configurations) {
    if (ending.has(index)) continue;
    yield { message: `who declines what ${at} asks comes to no end`, path: pathTo(exploration, index) };
  }
}

function* listUnsafe({ flow, exploration }: Evidence, declining: Moves): Generator<Failure> {
  const { configurations, shape } = exploration;
  const find = chartFinder(flow.charts);
  for (const { index, at, row } of configurations) {
    const { chart } = find(at);
    const counter = chart.procedure?.turns;
    if (chart.procedure === null || counter === undefined) continue;
    if ((row[shape.variables.indexOf(`memory:${counter}`)] as number) === 0) continue;
    for (const { event, to, exit } of declining(index)) {
      const target = flow.states.get(configurations[to]!.at);
      const isPuttingBack = target !== undefined && 'role' in target && target.role === 'put-back';
      const isTold = exit !== null && chart.procedure.exits[exit.name]?.leaves === 'counted';
      if (isPuttingBack || isTold) continue;
      yield {
        message: `"${event}" declines what ${at} asks, and leaves a screw turned that is neither put back nor told`,
        path: pathTo(exploration, index),
      };
    }
  }
}
