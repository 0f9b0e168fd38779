import { describe, expect, test } from 'vitest';
import { sampleEntry, sampleRun } from '../support/samples.ts';
import { type Harness, openRunWith } from './harness.ts';

export function describeLists(harness: Harness): void {
  const idsOf = async (filter: { closed?: boolean; limit: number; before?: string }) =>
    (await harness.store.listRuns(filter)).map(({ id }) => id);

  describe('listing runs', () => {
    test('the last opened comes first, whatever the clock said, and no state is read', async () => {
      await harness.store.createRun(sampleRun('a', { openedAt: '2026-03-02T12:00:00.000Z' }));
      await harness.store.createRun(sampleRun('b', { openedAt: '2026-03-02T11:00:00.000Z' }));
      const runs = await harness.store.listRuns({ limit: 10 });
      const { creationKey, state, ...opened } = sampleRun('b', { openedAt: '2026-03-02T11:00:00.000Z' });
      expect(runs[0]).toEqual({ ...opened, revision: 0, closed: false });
      expect(runs.map(({ id }) => id)).toEqual(['b', 'a']);
    });

    test('open and closed runs can be listed apart', async () => {
      for (const id of ['a', 'b', 'c']) await openRunWith(harness.store, id, 1);
      await harness.store.append(sampleEntry('b', 2, { closed: true }));
      expect(await idsOf({ limit: 10, closed: true })).toEqual(['b']);
      expect(await idsOf({ limit: 10, closed: false })).toEqual(['c', 'a']);
    });

    test('page after page shows every run once', async () => {
      const all = Array.from({ length: 7 }, (_, index) => `run-${index}`);
      for (const id of all) await harness.store.createRun(sampleRun(id));
      const seen: string[] = [];
      for (let page = await idsOf({ limit: 3 }); page.length > 0; ) {
        seen.push(...page);
        page = await idsOf({ limit: 3, before: page.at(-1) ?? '' });
      }
      expect(seen).toEqual(all.toReversed());
    });

    test('a page before a run that does not exist is empty', async () => {
      await harness.store.createRun(sampleRun('a'));
      expect(await idsOf({ limit: 10, before: 'nobody' })).toEqual([]);
    });

    test('a limit that is no whole number from 0 up is an error of the caller', async () => {
      expect(await idsOf({ limit: 0 })).toEqual([]);
      for (const limit of [-1, 1.5, Number.NaN, Number.POSITIVE_INFINITY]) {
        await expect(harness.store.listRuns({ limit })).rejects.toBeInstanceOf(RangeError);
      }
    });
  });
}
