/** Engraving in a thread of its own, so that requests are answered meanwhile. */
import { Worker } from 'node:worker_threads';
import type { EngravedNote, WrittenNote } from './engrave.ts';

const worker = new URL('./worker.ts', import.meta.url);

/**
 * Engraves notes in a thread that ends with it.
 *
 * @param limit milliseconds after which the thread is ended
 * @throws Error when it fails or takes longer
 */
export function engraveAside(written: readonly WrittenNote[], limit: number): Promise<EngravedNote[]> {
  return new Promise((resolve, reject) => {
    const thread = new Worker(worker, { workerData: written });
    const timer = setTimeout(() => void thread.terminate(), limit);
    // A program that is told to stop need not wait for pictures.
    thread.unref();
    timer.unref();
    thread.once('message', resolve);
    thread.once('error', reject);
    thread.once('exit', () => {
      clearTimeout(timer);
      reject(new Error(`Engraving ${written.length} notes was given up after ${limit / 1000} seconds.`));
    });
  });
}
