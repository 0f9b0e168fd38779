/** Works out predictions ahead of the first run, a little at a time, so that nobody waits for them. */
import { setImmediate as nextTurn } from 'node:timers/promises';
import type { Content } from './content/index.ts';
import { warmUp } from './diagnosis/index.ts';

/**
 * Warms up every instrument of an edition. Requests are answered in between; stopping early loses nothing.
 *
 * @param isStopping asked before each step
 */
export async function warmUpInSlices(content: Content, isStopping: () => boolean): Promise<void> {
  for (const { model } of content.instruments.values()) {
    for (const _ of warmUp(model)) {
      if (isStopping()) return;
      await nextTurn();
    }
  }
}
