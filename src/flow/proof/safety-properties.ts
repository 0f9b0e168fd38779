/** Proofs about who may do what, and after what. */
import {
  chartFinder,
  type Evidence,
  everywhere,
  type Failure,
  type Property,
  pathTo,
  property,
} from './property.ts';

/** Properties about entering procedures, about danger signs, and about what an ending says. */
export function proveSafety({ flow, exploration }: Evidence): Property[] {
  const find = chartFinder(flow.charts);
  const inProcedure = (
    says: (
      of: (name: string) => unknown,
      chart: NonNullable<ReturnType<typeof find>['chart']['procedure']>,
    ) => string | undefined,
  ) =>
    everywhere(exploration, ({ at }, of) => {
      const { procedure } = find(at).chart;
      return procedure === null ? undefined : says(of, procedure);
    });
  return [
    property(
      'confirmed-first',
      'no procedure is entered before its own fault has been proved',
      inProcedure((of, { procedure }) =>
        String(of('confirmed'))
          .split(' ')
          .includes(String(of('fault')))
          ? undefined
          : `${procedure} is entered although ${of('fault')} has not been proved`,
      ),
    ),
    property(
      'desk-never-adjusts',
      'the desk never meets a procedure that adjusts anything',
      inProcedure((of, { procedure, adjusts }) =>
        adjusts && of('person') === 'desk'
          ? `the desk is led into ${procedure}, which adjusts something`
          : undefined,
      ),
    ),
    property(
      'helper-approved',
      'a helper does nothing supervised without a supervisor’s word',
      inProcedure((of, { procedure, supervised }) =>
        supervised && of('person') === 'helper' && of('memory:approved') !== true
          ? `a helper is led into ${procedure} without a supervisor's word`
          : undefined,
      ),
    ),
    property(
      'owner-allows',
      'nothing is adjusted unless the owner allows it',
      inProcedure((of, { procedure, adjusts }) =>
        adjusts && of('memory:ownerAllows') !== true
          ? `${procedure} adjusts something although the owner has not allowed it`
          : undefined,
      ),
    ),
    property(
      'person-may',
      'nobody is led into a procedure that is not for them',
      inProcedure((of, { procedure, persons }) =>
        (persons as readonly unknown[]).includes(of('person'))
          ? undefined
          : `${procedure} is not for a ${of('person')}`,
      ),
    ),
    property(
      'danger-ends',
      'a danger sign found by a check ends the run at once',
      listDangerous({ flow, exploration }),
    ),
    property(
      'outcomes-complete',
      'every outcome has cautions, what to do until it is mended, and an escalation note',
      listIncomplete({ flow, exploration }),
    ),
    property(
      'way-out',
      'every page offers a quiet way out that leads somewhere else',
      listTraps({ flow, exploration }),
    ),
  ];
}

function* listDangerous({ flow, exploration }: Evidence): Generator<Failure> {
  for (const { index, at, moves } of exploration.configurations) {
    for (const { to } of moves.filter((move) => move.event === 'verdict danger')) {
      const target = exploration.configurations[to]!.at;
      if (flow.states.get(target)?.kind !== 'outcome')
        yield { message: `a danger sign at ${at} leads on to ${target}`, path: pathTo(exploration, index) };
    }
  }
}

function* listIncomplete({ flow }: Evidence): Generator<Failure> {
  for (const outcome of flow.charts.outcomes.outcomes) {
    const missing = [
      ...(outcome.cautions.length > 0 ? [] : ['a caution']),
      ...(outcome.untilMended.some((text) => text.trim() !== '') ? [] : ['what to do until it is mended']),
      ...(outcome.escalation.trim() === '' ? ['an escalation note'] : []),
    ];
    if (missing.length > 0)
      yield { message: `the outcome ${outcome.id} lacks ${missing.join(' and ')}`, path: [] };
  }
}

function* listTraps({ flow, exploration }: Evidence): Generator<Failure> {
  const quiet = new Map<string, ReadonlySet<string>>();
  for (const { index, at, row, moves } of exploration.configurations) {
    const kind = flow.states.get(at)?.kind;
    if (kind === undefined || kind === 'outcome' || kind === 'weigh') continue;
    let ids = quiet.get(at);
    if (ids === undefined) {
      const step = flow.step({ at, context: exploration.shape.toContext(row) });
      ids = new Set(step.choices.filter(({ tone }) => tone === 'quiet').map(({ id }) => `choice ${id}`));
      quiet.set(at, ids);
    }
    const leadsOut = moves.some(
      ({ event, to }) => ids.has(event) && exploration.configurations[to]!.at !== at,
    );
    if (!leadsOut) yield { message: `${at} has no quiet way out`, path: pathTo(exploration, index) };
  }
}
