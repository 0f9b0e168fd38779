import { describe, expect, test } from 'vitest';
import { sampleEdition, sampleEntry, sampleRun } from '../support/samples.ts';
import { type Harness, openRunWith } from './harness.ts';

export function describeClosing(harness: Harness): void {
  describe('readiness and closing', () => {
    test('a store that works is ready, again and again', async () => {
      await expect(Promise.all([harness.store.check(), harness.store.check()])).resolves.toHaveLength(2);
      await expect(harness.store.check()).resolves.toBeUndefined();
    });

    test('answers that wait when the store closes are stored and acknowledged', async () => {
      await openRunWith(harness.store, 'a', 0);
      const waiting = [1, 2, 3].map((revision) => harness.store.append(sampleEntry('a', revision)));
      const reopened = await harness.reopen();
      expect(await Promise.all(waiting)).toEqual(waiting.map(() => ({ outcome: 'stored' })));
      expect((await reopened.readRun('a'))?.revision).toBe(3);
    });

    test('a closed store says so to every request, and closing it again does nothing', async () => {
      const { store } = harness;
      await openRunWith(store, 'a', 1);
      await store.close();
      await store.close();
      const requests = [
        () => store.createRun(sampleRun('b')),
        () => store.append(sampleEntry('a', 2)),
        () => store.saveEdition(sampleEdition),
        () => store.readRun('a'),
        () => store.readEntries('a'),
        () => store.readStateAt('a', 0),
        () => store.readEdition(sampleEdition.version),
        () => store.listRuns({ limit: 1 }),
        () => store.check(),
      ];
      for (const request of requests) {
        await expect(request()).rejects.toMatchObject({ name: 'StoreUnavailable', reason: 'closed' });
      }
    });
  });
}
