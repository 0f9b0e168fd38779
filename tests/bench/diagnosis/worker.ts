/** A thread that carries orders out. */
import { parentPort } from 'node:worker_threads';
import type { Result } from './measures/result.ts';
import { type Order, openLaboratory, runCase } from './run-case.ts';

const laboratory = openLaboratory();

parentPort!.on('message', (orders: readonly Order[]) => {
  const results: Result[] = orders.map((order) => runCase(laboratory, order));
  parentPort!.postMessage(results);
});
