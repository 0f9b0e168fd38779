import { describe, expect, test } from 'vitest';
import { sampleEntry, sampleRun } from '../support/samples.ts';
import { type Harness, openRunWith } from './harness.ts';

export function describeAppends(harness: Harness): void {
  describe('appending an entry', () => {
    test('an acknowledged entry is read at once: the run has moved on and carries the new state', async () => {
      await openRunWith(harness.store, 'a', 0);
      expect(await harness.store.append(sampleEntry('a', 1))).toEqual({ outcome: 'stored' });
      expect(await harness.store.readRun('a')).toMatchObject({
        revision: 1,
        state: { step: 'play-test', revision: 1 },
      });
      const { state, ...entry } = sampleEntry('a', 1);
      expect(await harness.store.readEntries('a')).toEqual([entry]);
      expect(await harness.store.readEntries('a', { withState: true })).toEqual([{ ...entry, state }]);
    });

    test.each([
      ['behind', 2],
      ['two behind', 1],
      ['ahead', 4],
      ['zero', 0],
      ['no number', Number.NaN],
    ])('an entry whose revision is %s is stale and changes nothing', async (_name, revision) => {
      await openRunWith(harness.store, 'a', 2);
      const outcome = await harness.store.append(sampleEntry('a', revision, { key: 'fresh' }));
      expect(outcome).toEqual({ outcome: 'stale', revision: 2 });
      expect(await harness.store.readRun('a')).toMatchObject({ revision: 2, state: { revision: 2 } });
      expect(await harness.store.readEntries('a')).toHaveLength(2);
    });

    test('an entry of a run that does not exist is told so', async () => {
      expect(await harness.store.append(sampleEntry('nobody', 1))).toEqual({ outcome: 'unknown-run' });
    });

    test('of 50 answers to one step at the same time exactly one is stored and the others are stale', async () => {
      await openRunWith(harness.store, 'a', 3);
      const rivals = Array.from({ length: 50 }, (_, index) => sampleEntry('a', 4, { key: `rival-${index}` }));
      const outcomes = await Promise.all(rivals.map((rival) => harness.store.append(rival)));
      expect(outcomes.filter(({ outcome }) => outcome === 'stored')).toHaveLength(1);
      expect(outcomes.filter(({ outcome }) => outcome === 'stale')).toHaveLength(49);
      expect(outcomes).toContainEqual({ outcome: 'stale', revision: 4 });
      expect((await harness.store.readEntries('a', { from: 4 })).map(({ key }) => key)).toEqual(['rival-0']);
    });

    test('entries of one run sent together in their order are all stored', async () => {
      await openRunWith(harness.store, 'a', 0);
      const entries = Array.from({ length: 20 }, (_, index) => sampleEntry('a', index + 1));
      const outcomes = await Promise.all(entries.map((entry) => harness.store.append(entry)));
      expect(outcomes).toEqual(entries.map(() => ({ outcome: 'stored' })));
      expect((await harness.store.readRun('a'))?.revision).toBe(20);
    });

    test('a run can be opened and answered in the same breath', async () => {
      const [opened, appended] = await Promise.all([
        harness.store.createRun(sampleRun('a')),
        harness.store.append(sampleEntry('a', 1)),
      ]);
      expect(opened.created).toBe(true);
      expect(appended).toEqual({ outcome: 'stored' });
    });

    test('a run is over when its last entry says so, and open again when a later one does not', async () => {
      await openRunWith(harness.store, 'a', 1);
      await harness.store.append(sampleEntry('a', 2, { closed: true }));
      expect((await harness.store.readRun('a'))?.closed).toBe(true);
      await harness.store.append(sampleEntry('a', 3));
      expect((await harness.store.readRun('a'))?.closed).toBe(false);
      expect((await harness.store.readEntries('a')).map(({ closed }) => closed)).toEqual([
        false,
        true,
        false,
      ]);
    });

    test('an entry that JSON cannot hold is refused and the answers beside it are stored', async () => {
      await openRunWith(harness.store, 'a', 0);
      await openRunWith(harness.store, 'b', 0);
      const endless: Record<string, unknown> = {};
      endless.itself = endless;
      const [bad, good] = await Promise.allSettled([
        harness.store.append(sampleEntry('a', 1, { body: endless })),
        harness.store.append(sampleEntry('b', 1)),
      ]);
      expect(bad).toMatchObject({ status: 'rejected', reason: { name: 'StoreRefused', reason: 'not-json' } });
      expect(good).toEqual({ status: 'fulfilled', value: { outcome: 'stored' } });
      expect((await harness.store.readRun('a'))?.revision).toBe(0);
    });
  });

  describe('reading back', () => {
    test.each([
      [{}, [1, 2, 3, 4, 5]],
      [{ from: 3 }, [3, 4, 5]],
      [{ to: 2 }, [1, 2]],
      [{ from: 2, to: 4 }, [2, 3, 4]],
      [{ from: 0, to: 99 }, [1, 2, 3, 4, 5]],
      [{ from: 6 }, []],
      [{ from: 4, to: 2 }, []],
    ])('the entries of range %o are revisions %o', async (range, revisions) => {
      await openRunWith(harness.store, 'a', 5);
      await openRunWith(harness.store, 'b', 2);
      const entries = await harness.store.readEntries('a', range);
      expect(entries.map(({ revision }) => revision)).toEqual(revisions);
      expect(entries.every((entry) => !('state' in entry))).toBe(true);
    });

    test('the state after every entry is kept, from the opening on', async () => {
      await openRunWith(harness.store, 'a', 4);
      const reopened = await harness.reopen();
      expect(await reopened.readStateAt('a', 0)).toEqual({ step: 'intake', revision: 0 });
      for (const revision of [1, 2, 3, 4]) {
        expect(await reopened.readStateAt('a', revision)).toEqual({ step: 'play-test', revision });
      }
      expect(await reopened.readStateAt('a', 5)).toBeUndefined();
      expect(await reopened.readStateAt('a', -1)).toBeUndefined();
    });

    test('a state that is null is told apart from no state', async () => {
      await harness.store.createRun(sampleRun('a', { state: null }));
      expect(await harness.store.readStateAt('a', 0)).toBeNull();
      expect((await harness.store.readRun('a'))?.state).toBeNull();
    });
  });
}
