// Invented runs and entries; nobody and no instrument in them is real.
import type { Edition, Entry, NewRun } from '../../../src/store/index.ts';

export const sampleEdition: Edition = { version: 'edition-1', content: '{"flows":[]}' };

/** A run to open; its creation key is made from its id. */
export function sampleRun(id: string, changes: Partial<NewRun> = {}): NewRun {
  return {
    id,
    creationKey: `open-${id}`,
    instrument: 'alto-saxophone',
    person: 'director',
    edition: sampleEdition.version,
    openedAt: '2026-03-02T09:00:00.000Z',
    state: { step: 'intake', revision: 0 },
    ...changes,
  };
}

/** The entry that makes a revision of a run; its key and body are made from the revision. */
export function sampleEntry(runId: string, revision: number, changes: Partial<Entry> = {}): Entry {
  return {
    runId,
    revision,
    key: `key-${revision}`,
    at: '2026-03-02T09:01:00.000Z',
    body: { answer: `answer ${revision}` },
    bodyHash: `hash-${revision}`,
    state: { step: 'play-test', revision },
    closed: false,
    ...changes,
  };
}
