/** The thread in which what is made for paper is worked out: one job after the other, as they come. */
import { parentPort, workerData } from 'node:worker_threads';
import { assembleContent, type Documents } from '../content/index.ts';
import { doPaperJob, type PaperJob } from './paper-jobs.ts';

const content = assembleContent(workerData as Documents, true);

parentPort?.on('message', ({ number, job }: { number: number; job: PaperJob }) => {
  try {
    parentPort?.postMessage({ number, made: doPaperJob(content, job) });
  } catch (error) {
    parentPort?.postMessage({ number, failed: error instanceof Error ? error.message : String(error) });
  }
});
