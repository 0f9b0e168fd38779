import { afterEach, beforeEach } from 'vitest';
import type { RunStore } from '../../../src/store/index.ts';
import { sampleEdition, sampleEntry, sampleRun } from '../support/samples.ts';

/** A place of its own in which stores can be opened one after another. */
export type StorePlace = { open: () => RunStore | Promise<RunStore>; remove: () => void | Promise<void> };

/** The store under test: the open one, and a way to close it and open it again in the same place. */
export type Harness = { readonly store: RunStore; reopen: () => Promise<RunStore> };

/** Opens a store in a fresh place before each test, with one edition saved, and removes both after it. */
export function useStore(makePlace: () => StorePlace | Promise<StorePlace>): Harness {
  let place: StorePlace;
  let store: RunStore;
  beforeEach(async () => {
    place = await makePlace();
    store = await place.open();
    await store.saveEdition(sampleEdition);
  });
  afterEach(async () => {
    await store.close();
    await place.remove();
  });
  return {
    get store() {
      return store;
    },
    reopen: async () => {
      await store.close();
      store = await place.open();
      return store;
    },
  };
}

/** Opens a run and gives it this many entries. */
export async function openRunWith(store: RunStore, id: string, entries: number): Promise<void> {
  await store.createRun(sampleRun(id));
  for (let revision = 1; revision <= entries; revision += 1) await store.append(sampleEntry(id, revision));
}
