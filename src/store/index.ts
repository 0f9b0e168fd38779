// The public face of the store.
export {
  type RefusalReason,
  StoreDamaged,
  StoreError,
  StoreNotDurable,
  StoreRefused,
  StoreTooNew,
  StoreUnavailable,
  type UnavailableReason,
} from './errors.ts';
export { openSqliteStore, type SqliteStoreOptions } from './sqlite/sqlite-store.ts';
export type {
  AppendOutcome,
  Edition,
  Entry,
  EntryRange,
  NewRun,
  RunFilter,
  RunRow,
  RunStore,
  RunSummary,
  StoredEntry,
  StoreLogger,
} from './store.ts';
