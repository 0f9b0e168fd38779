// Everything that a store can say no with. Messages are for people and name no file; the file is in `path`.

type Details = { path?: string | undefined; cause?: unknown };

/** Base of the store's errors. `path` is the file concerned, for the log and never for a page. */
export class StoreError extends Error {
  override readonly name: string = 'StoreError';
  readonly path: string | undefined;

  constructor(message: string, details: Details = {}) {
    super(message, details.cause === undefined ? undefined : { cause: details.cause });
    this.path = details.path;
  }
}

/** Why a store cannot be used at the moment. */
export type UnavailableReason =
  | 'disk-full'
  | 'read-only'
  | 'locked'
  | 'cannot-open'
  | 'disk-error'
  | 'moved'
  | 'closed';

const unavailable: Record<UnavailableReason, string> = {
  'disk-full':
    'The disk that keeps the answers is full. Nothing saved earlier is lost. Free some space on it, then send the answer again.',
  'read-only':
    'The place that keeps the answers cannot be written to. Give this program leave to write in its data directory, then try again.',
  locked:
    'Another program is holding the file of answers. Wait a moment and try again; if it goes on, end the other program.',
  'cannot-open':
    'The place that keeps the answers cannot be opened. Check that the data directory is a directory and that this program may use it.',
  'disk-error':
    'The disk that keeps the answers reported an error. Nothing saved earlier was changed. Check the disk and its free space, then send the answer again.',
  moved:
    'The file of answers was moved or deleted while the program was running. Put it back, or restore a backup, and start the program again.',
  closed:
    'The program is stopping and takes no more answers. Send the answer again when it has started anew.',
};

/** The store cannot be read or written now; the same request may succeed later. Nothing was acknowledged. */
export class StoreUnavailable extends StoreError {
  override readonly name = 'StoreUnavailable';
  readonly reason: UnavailableReason;

  constructor(reason: UnavailableReason, details: Details = {}) {
    super(unavailable[reason], details);
    this.reason = reason;
  }
}

/** What is stored does not make sense. `runId` names the run when the damage is in one run only. */
export class StoreDamaged extends StoreError {
  override readonly name = 'StoreDamaged';
  readonly runId: string | undefined;

  constructor(what: { runId: string; part: string } | 'file', details: Details = {}) {
    super(
      what === 'file'
        ? 'The file of answers is damaged and cannot be read. Stop the program, keep a copy of the file, and restore the last backup.'
        : `The record of run ${what.runId} is damaged (${what.part}), so it cannot be shown. Other runs are not affected. Start a new run, and restore this one from a backup if it is needed.`,
      details,
    );
    this.runId = what === 'file' ? undefined : what.runId;
  }
}

/** The file was last written by a newer program, whose layout this one does not know. */
export class StoreTooNew extends StoreError {
  override readonly name = 'StoreTooNew';

  constructor(layout: { found: number; known: number }, details: Details = {}) {
    super(
      `The file of answers was written by a newer version of this program (layout ${layout.found}; this version knows up to ${layout.known}). Start the newer version, or restore a backup made with this one.`,
      details,
    );
  }
}

/** The database would acknowledge writes that are not on disk yet, so the store refuses to start. */
export class StoreNotDurable extends StoreError {
  override readonly name = 'StoreNotDurable';

  constructor(setting: { name: string; found: unknown; wanted: unknown }, details: Details = {}) {
    super(
      `The database does not put every answer on disk before it is acknowledged (its setting ${setting.name} is ${String(setting.found)} and must be ${String(setting.wanted)}), so the program does not start. Install the exact package versions of this release, and keep the data directory on a local disk.`,
      details,
    );
  }
}

/** What was wrong with a write that the store refused. */
export type RefusalReason = 'id-taken' | 'edition-unknown' | 'not-json';

const refusals: Record<RefusalReason, string> = {
  'id-taken': 'A run with this id exists already. Make a new id and open the run again.',
  'edition-unknown':
    'The flows that this run begins with are not in the store. Save that edition first, then open the run.',
  'not-json':
    'This value cannot be kept as JSON. Pass plain objects, lists, texts, finite numbers, true, false or null.',
};

/** One write was refused for what it holds; repeating it as it is will not help. Its neighbours are not touched. */
export class StoreRefused extends StoreError {
  override readonly name = 'StoreRefused';
  readonly reason: RefusalReason;

  constructor(reason: RefusalReason, details: Details = {}) {
    super(refusals[reason], details);
    this.reason = reason;
  }
}
