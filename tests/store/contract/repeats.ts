import { describe, expect, test } from 'vitest';
import { sampleEntry } from '../support/samples.ts';
import { type Harness, openRunWith } from './harness.ts';

export function describeRepeats(harness: Harness): void {
  describe('sending an answer more than once', () => {
    test.each([2, 3, 50])(
      '%i times at once counts once, and all are told which entry it is',
      async (times) => {
        await openRunWith(harness.store, 'a', 2);
        const entry = sampleEntry('a', 3);
        const outcomes = await Promise.all(Array.from({ length: times }, () => harness.store.append(entry)));
        expect(outcomes[0]).toEqual({ outcome: 'stored' });
        expect(outcomes.slice(1)).toEqual(
          outcomes.slice(1).map(() => ({ outcome: 'repeated', revision: 3 })),
        );
        expect(await harness.store.readEntries('a')).toHaveLength(3);
      },
    );

    test('one after the other, and after reopening, it counts once', async () => {
      await openRunWith(harness.store, 'a', 1);
      const repeat = sampleEntry('a', 1);
      expect(await harness.store.append(repeat)).toEqual({ outcome: 'repeated', revision: 1 });
      const reopened = await harness.reopen();
      expect(await reopened.append(repeat)).toEqual({ outcome: 'repeated', revision: 1 });
      expect((await reopened.readRun('a'))?.revision).toBe(1);
    });

    test('a repeat of an earlier answer is a repeat and not stale, whatever revision it now claims', async () => {
      await openRunWith(harness.store, 'a', 5);
      expect(await harness.store.append(sampleEntry('a', 2))).toEqual({ outcome: 'repeated', revision: 2 });
      const moved = { ...sampleEntry('a', 2), revision: 6 };
      expect(await harness.store.append(moved)).toEqual({ outcome: 'repeated', revision: 2 });
      expect((await harness.store.readRun('a'))?.revision).toBe(5);
    });

    test('the same key with another body is told so, also within one group, and changes nothing', async () => {
      await openRunWith(harness.store, 'a', 0);
      const [first, other] = await Promise.all([
        harness.store.append(sampleEntry('a', 1, { key: 'k' })),
        harness.store.append(sampleEntry('a', 2, { key: 'k' })),
      ]);
      expect([first, other]).toEqual([{ outcome: 'stored' }, { outcome: 'key-reused', revision: 1 }]);
      const later = sampleEntry('a', 2, { key: 'k', bodyHash: 'another' });
      expect(await harness.store.append(later)).toEqual({ outcome: 'key-reused', revision: 1 });
      expect(await harness.store.readEntries('a')).toHaveLength(1);
    });

    test('two runs may use the same key', async () => {
      await openRunWith(harness.store, 'a', 0);
      await openRunWith(harness.store, 'b', 0);
      const outcomes = await Promise.all(
        ['a', 'b'].map((id) => harness.store.append(sampleEntry(id, 1, { key: 'shared' }))),
      );
      expect(outcomes).toEqual([{ outcome: 'stored' }, { outcome: 'stored' }]);
    });

    test('a stale answer may be sent anew under its key once it knows the current revision', async () => {
      await openRunWith(harness.store, 'a', 3);
      const stale = sampleEntry('a', 3, { key: 'mine' });
      expect(await harness.store.append(stale)).toEqual({ outcome: 'stale', revision: 3 });
      expect(await harness.store.append({ ...stale, revision: 4 })).toEqual({ outcome: 'stored' });
    });
  });
}
