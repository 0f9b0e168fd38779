/** The thread that engraves: it loads the engraver, gives the pictures back and ends. */
import { parentPort, workerData } from 'node:worker_threads';
import { engrave, type WrittenNote } from './engrave.ts';

parentPort?.postMessage(await engrave(workerData as WrittenNote[]));
