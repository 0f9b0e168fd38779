// What the rest of the program may ask of a store of runs. Nothing here knows which database stands behind it.

/** A run as it stands: its opening facts, how many entries it has, and the snapshot after the last of them. */
export type RunRow = {
  id: string;
  instrument: string;
  person: string;
  /** Version of the flows that the run began with. */
  edition: string;
  /** ISO 8601, from the caller. */
  openedAt: string;
  /** Number of the last entry; 0 for a run that has only been opened. */
  revision: number;
  /** JSON snapshot. */
  state: unknown;
  closed: boolean;
};

/** A run in a list: everything but the snapshot. */
export type RunSummary = Omit<RunRow, 'state'>;

/** A run to be opened. `state` is its opening snapshot; the creation key makes a repeated request harmless. */
export type NewRun = Omit<RunRow, 'revision' | 'closed'> & { creationKey: string };

/** One event of a run, with the snapshot that it led to. */
export type Entry = {
  runId: string;
  /** The revision that this entry makes: 1, 2, 3, … */
  revision: number;
  /** Idempotency key: one key is stored at most once in a run. */
  key: string;
  /** ISO 8601, from the caller. */
  at: string;
  /** The event, JSON. */
  body: unknown;
  /** Tells a repeat of the same event from another event under the same key. */
  bodyHash: string;
  /** JSON snapshot after the event. */
  state: unknown;
  /** Whether the run is over after this entry. */
  closed: boolean;
};

/** An entry as read back; the snapshot is there only when it was asked for. */
export type StoredEntry = Omit<Entry, 'state'> & { state?: unknown };

/**
 * What became of an append.
 * - `stored`: it is on disk.
 * - `repeated`: this key with this body is on disk already, as `revision`; nothing was added.
 * - `key-reused`: this key is on disk with another body, as `revision`; nothing was added.
 * - `stale`: the run stands at `revision`, which is not the one before this entry; nothing was added.
 * - `unknown-run`: there is no such run.
 */
export type AppendOutcome =
  | { outcome: 'stored' }
  | { outcome: 'repeated'; revision: number }
  | { outcome: 'key-reused'; revision: number }
  | { outcome: 'stale'; revision: number }
  | { outcome: 'unknown-run' };

/** The flows' whole content under its version. */
export type Edition = { version: string; content: string };

/** Which entries to read (revisions, both ends included), and whether their snapshots come with them. */
export type EntryRange = { from?: number; to?: number; withState?: boolean };

/** Which runs to list. `before` is the id of a run: only runs opened before it are listed. */
export type RunFilter = { closed?: boolean; limit: number; before?: string };

/** Where a store writes what the operator should know. A pino logger fits. */
export type StoreLogger = {
  info(fields: object, message: string): void;
  warn(fields: object, message: string): void;
  error(fields: object, message: string): void;
};

/**
 * A store of runs. A promise of a write settles only when the write is on disk, and a read started after that sees it.
 * Every method rejects with one of the errors in errors.ts. Ids, times and keys come from the caller.
 */
export interface RunStore {
  /** Opens a run. The same creation key twice gives the first run, with `created` false. */
  createRun(run: NewRun): Promise<{ id: string; created: boolean }>;
  /** Adds an entry if the run stands at the revision before it. */
  append(entry: Entry): Promise<AppendOutcome>;
  /** The run as it stands, or undefined when there is none with this id. */
  readRun(id: string): Promise<RunRow | undefined>;
  /** The run's entries in order of revision; empty for an unknown run. */
  readEntries(id: string, range?: EntryRange): Promise<StoredEntry[]>;
  /** The snapshot after an entry; revision 0 is the opening one. Undefined when there is no such run or entry. */
  readStateAt(id: string, revision: number): Promise<unknown | undefined>;
  /** Keeps the flows' content under its version. A version already kept stays as it is. */
  saveEdition(edition: Edition): Promise<void>;
  /** The content kept under a version, or undefined. */
  readEdition(version: string): Promise<string | undefined>;
  /** Runs, the last opened first (in the order in which the store took them: clocks may jump). */
  listRuns(filter: RunFilter): Promise<RunSummary[]>;
  /** Readiness: resolves when the store could write to its disk and read, rejects with StoreUnavailable otherwise. */
  check(): Promise<void>;
  /** Finishes the writes that wait, then lets go of the files. Calling it again does nothing. */
  close(): Promise<void>;
}
