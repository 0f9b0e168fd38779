// The reads of a store, built once for every database: each takes the query builder of a dialect and gives a query.
import type { Kysely } from 'kysely';
import type { RunFilter } from './store.ts';
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

// Scalar subqueries instead of joins: where a value is bound in a join, SQLite (built with STAT4) plans the statement
// anew each time it is run, which costs four times the read.
const runNumber = (builder: Builder, id: string) =>
  builder.selectFrom('runs').select('runs.number').where('runs.id', '=', id);

/** One run with the snapshot after its last entry; the snapshot is null when that entry is missing. */
export function selectRun(builder: Builder, id: string) {
  return builder
    .selectFrom('runs')
    .select(summaryColumns)
    .select((inner) =>
      inner
        .selectFrom('entries')
        .select('entries.state')
        .whereRef('entries.run', '=', 'runs.number')
        .whereRef('entries.revision', '=', 'runs.revision')
        .as('state'),
    )
    .where('runs.id', '=', id);
}

/** A run's entries from one revision to another, in order, without their snapshots. */
export function selectEntries(builder: Builder, id: string, from: number, to: number) {
  return builder
    .selectFrom('entries')
    .select([
      'entries.revision',
      'entries.key',
      'entries.at',
      'entries.body_hash',
      'entries.closed',
      'entries.body',
    ])
    .where('entries.run', '=', runNumber(builder, id))
    .where('entries.revision', '>=', from)
    .where('entries.revision', '<=', to)
    .orderBy('entries.revision');
}

/** The same entries with their snapshots. */
export function selectEntriesWithState(builder: Builder, id: string, from: number, to: number) {
  return selectEntries(builder, id, from, to).select('entries.state');
}

/** The snapshot that a run was opened with. */
export function selectOpening(builder: Builder, id: string) {
  return builder
    .selectFrom('openings')
    .select('openings.state')
    .where('openings.run', '=', runNumber(builder, id));
}

/** The snapshot after one entry of a run. */
export function selectStateAt(builder: Builder, id: string, revision: number) {
  return builder
    .selectFrom('entries')
    .select('entries.state')
    .where('entries.run', '=', runNumber(builder, id))
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
  return query.where('runs.number', '<', runNumber(builder, before));
}
