/** The thread that engraves: it loads the engraver, gives the pictures back and ends, and its memory with it. */
import { parentPort, workerData } from 'node:worker_threads';
import type { Clef } from '../mechanism/index.ts';
import { engrave } from './engrave.ts';

const { clef, notes } = workerData as { clef: Clef; notes: string[] };
parentPort?.postMessage(await engrave(clef, notes));
