import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { StoreRefused } from '../../../src/store/index.ts';
import { sampleEdition, sampleRun } from '../support/samples.ts';
import type { Harness } from './harness.ts';

export function describeRuns(harness: Harness): void {
  describe('opening a run', () => {
    test('a run comes back as it was opened, at revision 0 and not closed', async () => {
      const { creationKey, ...opened } = sampleRun('a');
      expect(await harness.store.createRun({ ...opened, creationKey })).toEqual({ id: 'a', created: true });
      expect(await harness.store.readRun('a')).toEqual({ ...opened, revision: 0, closed: false });
    });

    test('a run is still there after the store was closed and opened again', async () => {
      await harness.store.createRun(sampleRun('a'));
      const reopened = await harness.reopen();
      expect(await reopened.readRun('a')).toMatchObject({
        id: 'a',
        revision: 0,
        state: sampleRun('a').state,
      });
    });

    test('the same creation key gives the first run, also at once and after reopening', async () => {
      const requests = Array.from({ length: 20 }, (_, index) =>
        sampleRun(`run-${index}`, { creationKey: 'once' }),
      );
      const answers = await Promise.all(requests.map((request) => harness.store.createRun(request)));
      expect(answers.filter(({ created }) => created)).toEqual([{ id: 'run-0', created: true }]);
      expect(new Set(answers.map(({ id }) => id))).toEqual(new Set(['run-0']));
      const reopened = await harness.reopen();
      expect(await reopened.createRun(sampleRun('late', { creationKey: 'once' }))).toEqual({
        id: 'run-0',
        created: false,
      });
      expect(await reopened.listRuns({ limit: 50 })).toHaveLength(1);
    });

    test('an id that is taken is refused and leaves the first run as it was', async () => {
      await harness.store.createRun(sampleRun('a'));
      const second = harness.store.createRun(sampleRun('a', { creationKey: 'other', person: 'desk' }));
      await expect(second).rejects.toMatchObject({ name: 'StoreRefused', reason: 'id-taken' });
      expect(await harness.store.readRun('a')).toMatchObject({ person: 'director' });
    });

    test('a run cannot begin with an edition that was never saved', async () => {
      const orphan = harness.store.createRun(sampleRun('a', { edition: 'edition-9' }));
      await expect(orphan).rejects.toMatchObject({ name: 'StoreRefused', reason: 'edition-unknown' });
      expect(await harness.store.readRun('a')).toBeUndefined();
    });

    test.each([
      ['undefined', undefined],
      ['a very large whole number', 10n],
      ['a function', () => 1],
    ])('an opening state that is %s is refused, since JSON cannot hold it', async (_name, state) => {
      await expect(harness.store.createRun(sampleRun('a', { state }))).rejects.toBeInstanceOf(StoreRefused);
      expect(await harness.store.readRun('a')).toBeUndefined();
    });

    test('every text and every JSON value comes back as it went in', async () => {
      let count = 0;
      const anyRun = fc.record({ person: fc.string({ unit: 'binary' }), state: fc.jsonValue() });
      await fc.assert(
        fc.asyncProperty(anyRun, async (changes) => {
          const id = `run-${count++}`;
          await harness.store.createRun(sampleRun(id, changes));
          const run = await harness.store.readRun(id);
          expect(run?.person).toBe(changes.person);
          expect(run?.state).toEqual(JSON.parse(JSON.stringify(changes.state)));
        }),
        { numRuns: 60 },
      );
    }, 30_000);

    test('asking for what is not there is no error', async () => {
      expect(await harness.store.readRun('nobody')).toBeUndefined();
      expect(await harness.store.readEntries('nobody')).toEqual([]);
      expect(await harness.store.readStateAt('nobody', 0)).toBeUndefined();
      expect(await harness.store.readEdition('nothing')).toBeUndefined();
    });
  });

  describe('editions of the flows', () => {
    test('an edition saved twice keeps its first content, also after reopening', async () => {
      await harness.store.saveEdition({ version: sampleEdition.version, content: 'something else' });
      expect(await harness.store.readEdition(sampleEdition.version)).toBe(sampleEdition.content);
      const reopened = await harness.reopen();
      expect(await reopened.readEdition(sampleEdition.version)).toBe(sampleEdition.content);
    });

    test('a run keeps the edition it began with when a newer one is saved', async () => {
      await harness.store.createRun(sampleRun('a'));
      await harness.store.saveEdition({ version: 'edition-2', content: '{}' });
      await harness.store.createRun(sampleRun('b', { edition: 'edition-2' }));
      expect((await harness.store.readRun('a'))?.edition).toBe('edition-1');
      expect((await harness.store.readRun('b'))?.edition).toBe('edition-2');
    });
  });
}
