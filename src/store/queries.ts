// The reads of a store, built once for every database: each takes the query builder of a dialect and gives a query.
import type { Kysely } from 'kysely';
import type { EntryRange, RunFilter } from './store.ts';
import type { StoreTables } from './tables.ts';

type Builder = Kysely<StoreTables>;

const summaryColumns = [
  'runs.id',
  'runs.instrument',
  'runs.person',
  'runs.edition',
  'runs.opened_at',
  'runs.revision',
  'runs.closed',
] as const;

/** One run with the snapshot after its last entry; the snapshot is null when that entry is missing. */
export function selectRun(builder: Builder, id: string) {
  return builder
    .selectFrom('runs')
    .leftJoin('entries', (join) =>
      join.onRef('entries.run', '=', 'runs.number').onRef('entries.revision', '=', 'runs.revision'),
    )
    .select(summaryColumns)
    .select((column) =>
      column
        .case()
        .when('runs.revision', '=', 0)
        .then(column.ref('runs.opening_state'))
        .else(column.ref('entries.state'))
        .end()
        .as('state'),
    )
    .where('runs.id', '=', id);
}

/** A run's entries in order of revision, without their snapshots. */
export function selectEntries(builder: Builder, id: string, range: EntryRange) {
  return builder
    .selectFrom('entries')
    .innerJoin('runs', 'runs.number', 'entries.run')
    .select([
      'entries.revision',
      'entries.key',
      'entries.at',
      'entries.body_hash',
      'entries.closed',
      'entries.body',
    ])
    .where('runs.id', '=', id)
    .where('entries.revision', '>=', range.from ?? 1)
    .$if(range.to !== undefined, (query) => query.where('entries.revision', '<=', range.to ?? 0))
    .orderBy('entries.revision');
}

/** The same entries with their snapshots. */
export function selectEntriesWithState(builder: Builder, id: string, range: EntryRange) {
  return selectEntries(builder, id, range).select('entries.state');
}

/** The snapshot that a run was opened with. */
export function selectOpeningState(builder: Builder, id: string) {
  return builder.selectFrom('runs').select('runs.opening_state as state').where('runs.id', '=', id);
}

/** The snapshot after one entry of a run. */
export function selectStateAt(builder: Builder, id: string, revision: number) {
  return builder
    .selectFrom('entries')
    .innerJoin('runs', 'runs.number', 'entries.run')
    .select('entries.state')
    .where('runs.id', '=', id)
    .where('entries.revision', '=', revision);
}

/** The content of one edition of the flows. */
export function selectEdition(builder: Builder, version: string) {
  return builder.selectFrom('editions').select('editions.content').where('editions.version', '=', version);
}

/** Runs, the last opened first, without snapshots. */
export function selectRuns(builder: Builder, filter: RunFilter) {
  let query = builder
    .selectFrom('runs')
    .select(summaryColumns)
    .orderBy('runs.number', 'desc')
    .limit(filter.limit);
  const { closed, before } = filter;
  if (closed !== undefined) query = query.where('runs.closed', '=', closed ? 1 : 0);
  if (before === undefined) return query;
  return query.where('runs.number', '<', (inner) =>
    inner.selectFrom('runs as mark').select('mark.number').where('mark.id', '=', before),
  );
}
