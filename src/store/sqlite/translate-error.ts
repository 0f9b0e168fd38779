import Database from 'better-sqlite3';
import { StoreDamaged, StoreError, StoreUnavailable, type UnavailableReason } from '../errors.ts';

const byCode: readonly (readonly [RegExp, UnavailableReason | 'damaged'])[] = [
  [/^SQLITE_(CORRUPT|NOTADB|IOERR_CORRUPTFS|IOERR_DATA)/, 'damaged'],
  [/^SQLITE_READONLY_DBMOVED/, 'moved'],
  [/^(SQLITE_FULL|ENOSPC|EDQUOT|EFBIG)/, 'disk-full'],
  [/^(SQLITE_READONLY|SQLITE_PERM|EROFS|EACCES|EPERM)/, 'read-only'],
  [/^SQLITE_(BUSY|LOCKED|PROTOCOL)/, 'locked'],
  [
    /^(SQLITE_CANTOPEN|SQLITE_AUTH|ENOTDIR|EEXIST|EISDIR|ENOENT|ELOOP|ENAMETOOLONG|EMFILE|ENFILE)/,
    'cannot-open',
  ],
  [/^(SQLITE_IOERR|SQLITE_NOMEM|EIO)/, 'disk-error'],
];

/**
 * The store's own error for what SQLite or the file system reported; `path` goes into it for the log. What is no fault
 * of the disk or the file (a mistake in the program) is given back as it is.
 */
export function translateError(error: unknown, path: string): unknown {
  if (error instanceof StoreError) return error;
  const code = readCode(error);
  const meaning = byCode.find(([pattern]) => pattern.test(code))?.[1];
  if (meaning === undefined) return error;
  return meaning === 'damaged'
    ? new StoreDamaged('file', { path, cause: error })
    : new StoreUnavailable(meaning, { path, cause: error });
}

/** Whether SQLite refused a write by the constraint of this kind. */
export function isConstraint(error: unknown, kind: 'FOREIGNKEY' | 'UNIQUE'): boolean {
  return readCode(error) === `SQLITE_CONSTRAINT_${kind}`;
}

function readCode(error: unknown): string {
  if (error instanceof Database.SqliteError) return error.code;
  return error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';
}
