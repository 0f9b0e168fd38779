/** Shares orders out over threads. */
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { Result } from './measures/result.ts';
import type { Order } from './run-case.ts';

/** So many orders go to a thread at once: few enough that all threads finish together. */
const PARCEL = 20;

/** Carries all orders out, one thread a processor. The results stand in the order of the orders. @throws what a thread throws. */
export async function carryOut(orders: readonly Order[]): Promise<Result[]> {
  const parcels: { readonly at: number; readonly orders: readonly Order[] }[] = [];
  for (let at = 0; at < orders.length; at += PARCEL)
    parcels.push({ at, orders: orders.slice(at, at + PARCEL) });
  const results: Result[] = new Array(orders.length);
  const threads = Math.min(availableParallelism(), parcels.length);
  await Promise.all(Array.from({ length: threads }, () => work(parcels, results)));
  return results;
}

function work(
  waiting: { readonly at: number; readonly orders: readonly Order[] }[],
  results: Result[],
): Promise<void> {
  const worker = new Worker(new URL('./worker.ts', import.meta.url));
  return new Promise((resolve, reject) => {
    let at = 0;
    const next = () => {
      const parcel = waiting.shift();
      if (parcel === undefined) {
        void worker.terminate();
        resolve();
        return;
      }
      at = parcel.at;
      worker.postMessage(parcel.orders);
    };
    worker.on('message', (done: readonly Result[]) => {
      for (const [index, result] of done.entries()) results[at + index] = result;
      next();
    });
    worker.on('error', reject);
    next();
  });
}
