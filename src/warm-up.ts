/** Works out predictions ahead, a little at a time, for the instruments that are used, so that nobody waits for them. */
import { setImmediate as nextTurn } from 'node:timers/promises';
import { type DiagnosisModel, warmUp } from './diagnosis/index.ts';

/**
 * Gives what is to be called with the model of every instrument that somebody begins to use. Each is worked out once, one
 * after the other; requests are answered in between, and stopping early loses nothing.
 *
 * @param isStopping asked before each step
 */
export function createWarmUp(isStopping: () => boolean): (model: DiagnosisModel) => void {
  const begun = new WeakSet<DiagnosisModel>();
  let last = Promise.resolve();
  return (model) => {
    if (begun.has(model)) return;
    begun.add(model);
    last = last.then(async () => {
      for (const _ of warmUp(model)) {
        await nextTurn();
        if (isStopping()) return;
      }
    });
  };
}
