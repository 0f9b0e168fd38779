/**
 * A thread of its own for what is made for paper: a sheet takes a second or two, and whoever answers a question meanwhile
 * must not wait for it. The thread starts with the first job and ends when there has been none for a while.
 */
import { Worker } from 'node:worker_threads';
import type { Content } from '../content/index.ts';
import type { PaperJob, PaperJobs } from './paper-jobs.ts';

const worker = new URL('./paper-worker.ts', import.meta.url);
/** The thread holds a second copy of the content, so it is not kept for longer than somebody chooses between two sheets. */
const idleMilliseconds = 60_000;

type Answer = { readonly number: number; readonly made?: never; readonly failed?: string };
type Waiting = { resolve: (made: never) => void; reject: (error: Error) => void };

export type PaperThread = {
  /** How many jobs wait or are being done. */
  waiting(): number;
  /** Does a job. Rejects with Error when it fails or the thread ends. */
  do<Kind extends keyof PaperJobs>(
    kind: Kind,
    wish: PaperJobs[Kind]['wish'],
  ): Promise<PaperJobs[Kind]['made']>;
};

/** The thread of one edition; nothing is started before the first job. */
export function openPaperThread({ documents }: Content): PaperThread {
  const jobs = new Map<number, Waiting>();
  let thread: Worker | null = null;
  let idle: NodeJS.Timeout | undefined;
  let last = 0;

  const start = (): Worker => {
    const started = new Worker(worker, { workerData: documents });
    started.on('message', ({ number, made, failed }: Answer) => {
      const job = jobs.get(number);
      jobs.delete(number);
      if (failed === undefined) job?.resolve(made as never);
      else job?.reject(new Error(failed));
      rest();
    });
    const giveUp = (error: Error): void => {
      if (thread === started) thread = null;
      for (const job of jobs.values()) job.reject(error);
      jobs.clear();
    };
    started.once('error', giveUp);
    started.once('exit', () => {
      if (thread === started) giveUp(new Error('The thread that makes paper versions has ended.'));
    });
    // A program that is told to stop need not wait for paper.
    started.unref();
    return started;
  };

  const rest = (): void => {
    if (jobs.size > 0) return;
    idle = setTimeout(() => {
      const tired = thread;
      thread = null;
      void tired?.terminate();
    }, idleMilliseconds).unref();
  };

  return {
    waiting: () => jobs.size,
    do: (kind, wish) =>
      new Promise((resolve, reject) => {
        clearTimeout(idle);
        thread ??= start();
        last += 1;
        jobs.set(last, { resolve, reject });
        thread.postMessage({ number: last, job: { kind, wish } as PaperJob });
      }),
  };
}
