/** What the use cases of runs ask of a store. */
import type { RunStore } from '../store/index.ts';

export type RunsStore = Pick<RunStore, 'createRun' | 'append' | 'readRun' | 'readEntries' | 'readStateAt'>;
