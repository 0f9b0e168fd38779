import { createRuns } from './0001-runs.ts';
import type { Migration } from './migration.ts';

export type { Migration };

/** Every step, in order. The file's layout is the number of the last step that was run on it. */
export const migrations: readonly Migration[] = [createRuns];
