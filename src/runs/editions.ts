/** The editions of the flows: the one that new runs begin with, and older ones that open runs keep. */
import { LRUCache } from 'lru-cache';
import { assembleContent, type Content, type Documents } from '../content/index.ts';
import { Problem } from '../problems.ts';
import type { RunStore } from '../store/index.ts';

export interface Editions {
  /** The edition that a new run begins with. */
  readonly current: Content;
  /** The edition under this version. Throws Problem `unexpected` if the store has not kept it. */
  find(version: string): Promise<Content>;
}

/** An edition takes some megabytes once its instruments are used, so few older ones are held ready. */
const heldReady = 4;

/**
 * Keeps the current edition in the store (so that a later program can go on with its runs) and finds older ones.
 *
 * @param current the edition that new runs begin with
 */
export async function openEditions(store: RunStore, current: Content): Promise<Editions> {
  await store.saveEdition({ version: current.edition, content: JSON.stringify(current.documents) });
  const older = new LRUCache<string, Content>({ max: heldReady });
  return {
    current,
    async find(version) {
      if (version === current.edition) return current;
      const held = older.get(version);
      if (held !== undefined) return held;
      const stored = await store.readEdition(version);
      if (stored === undefined) {
        throw new Problem(
          'unexpected',
          'The flows that this run began with are no longer kept here. Start a new run; what was found stays readable in the backup.',
        );
      }
      const content = assembleContent(JSON.parse(stored) as Documents, true);
      older.set(version, content);
      return content;
    },
  };
}
