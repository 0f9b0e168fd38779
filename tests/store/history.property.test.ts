import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setImmediate as nextTurn } from 'node:timers/promises';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type AppendOutcome, openSqliteStore, type RunStore } from '../../src/store/index.ts';
import { copyStore } from './support/places.ts';
import { sampleEdition, sampleEntry, sampleRun } from './support/samples.ts';

type Step =
  | { kind: 'open'; run: string }
  | { kind: 'append'; run: string; key: string; ahead: number; body: string }
  | { kind: 'turn' | 'settle' | 'reopen' | 'power-loss' };

const run = fc.constantFrom('a', 'b', 'c');
const step: fc.Arbitrary<Step> = fc.oneof(
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('open'), run }) },
  {
    weight: 12,
    arbitrary: fc.record({
      kind: fc.constant('append'),
      run,
      key: fc.constantFrom(...'0123456789'),
      ahead: fc.constantFrom(1, 1, 1, 0, 2),
      body: fc.constantFrom('x', 'y'),
    }),
  },
  { weight: 4, arbitrary: fc.record({ kind: fc.constantFrom('turn', 'settle', 'reopen', 'power-loss') }) },
);

type Model = Map<string, { key: string; body: string }[]>;

/** What a store that does one thing after another would answer. Changes the model as the store should change. */
function expectOutcome(
  model: Model,
  entry: { run: string; key: string; body: string; revision: number },
): AppendOutcome {
  const stored = model.get(entry.run);
  if (stored === undefined) return { outcome: 'unknown-run' };
  const earlier = stored.findIndex(({ key }) => key === entry.key);
  if (earlier >= 0) {
    return {
      outcome: stored[earlier]?.body === entry.body ? 'repeated' : 'key-reused',
      revision: earlier + 1,
    };
  }
  if (entry.revision !== stored.length + 1) return { outcome: 'stale', revision: stored.length };
  stored.push({ key: entry.key, body: entry.body });
  return { outcome: 'stored' };
}

/** One history: the store under test, what it should hold, what it has acknowledged, what it was ever sent. */
class History {
  readonly #root = mkdtempSync(join(tmpdir(), 'quarter-turn-test-'));
  readonly #acknowledged = new Set<string>();
  readonly #sent = new Set<string>();
  #opened = 0;
  #directory = this.#nextDirectory();
  #store: RunStore = openSqliteStore({ directory: this.#directory });
  #model: Model = new Map();
  #pending: Promise<void>[] = [];

  async perform(action: Step): Promise<void> {
    if (action.kind === 'open') this.#open(action.run);
    else if (action.kind === 'append') this.#append(action);
    else if (action.kind === 'turn') await nextTurn();
    else if (action.kind === 'settle') await this.#settle();
    else if (action.kind === 'reopen') await this.#reopen();
    else await this.#losePower();
  }

  async begin(): Promise<void> {
    await this.#store.saveEdition(sampleEdition);
  }

  async end(): Promise<void> {
    await this.#settle();
    const expected = new Map(this.#model);
    await this.#reopen();
    expect(await this.#readAll()).toEqual(expected);
    await this.#store.close();
    rmSync(this.#root, { recursive: true, force: true });
  }

  #open(id: string): void {
    const isNew = !this.#model.has(id);
    if (isNew) this.#model.set(id, []);
    this.#sent.add(`${id} opened`);
    this.#expect(this.#store.createRun(sampleRun(id)), { id, created: isNew }, () => {
      this.#acknowledged.add(`${id} opened`);
    });
  }

  #append({ run: id, key, ahead, body }: Extract<Step, { kind: 'append' }>): void {
    const revision = (this.#model.get(id)?.length ?? 0) + ahead;
    const expected = expectOutcome(this.#model, { run: id, key, body, revision });
    this.#sent.add(`${id} ${revision} ${key} ${body}`);
    const append = this.#store.append(sampleEntry(id, revision, { key, body, bodyHash: body }));
    this.#expect(append, expected, () => {
      if (expected.outcome === 'stored') this.#acknowledged.add(`${id} ${revision} ${key} ${body}`);
    });
  }

  /** A write that power loss overtakes may settle as it likes: nobody hears of it. */
  #expect<T>(write: Promise<T>, expected: T, then: () => void = () => {}): void {
    const store = this.#store;
    this.#pending.push(
      write.then((answer) => {
        if (store !== this.#store) return;
        expect(answer).toEqual(expected);
        then();
      }),
    );
  }

  async #settle(): Promise<void> {
    await Promise.all(this.#pending);
    this.#pending = [];
  }

  async #reopen(): Promise<void> {
    const closing = this.#store.close();
    await this.#settle();
    await closing;
    this.#store = openSqliteStore({ directory: this.#directory });
  }

  async #losePower(): Promise<void> {
    const lost = this.#store;
    const from = this.#directory;
    this.#directory = this.#nextDirectory();
    copyStore(from, this.#directory);
    this.#store = openSqliteStore({ directory: this.#directory });
    await this.#settle();
    await lost.close();
    const stored = await this.#readAll();
    const lines = [...stored].flatMap(([id, entries]) => [
      `${id} opened`,
      ...entries.map(({ key, body }, index) => `${id} ${index + 1} ${key} ${body}`),
    ]);
    expect(lines).toEqual(expect.arrayContaining([...this.#acknowledged]));
    expect(lines.filter((line) => !this.#sent.has(line))).toEqual([]);
    this.#model = stored;
  }

  async #readAll(): Promise<Model> {
    const model: Model = new Map();
    for (const { id, revision } of (await this.#store.listRuns({ limit: 10 })).toReversed()) {
      const entries = await this.#store.readEntries(id);
      expect(entries).toHaveLength(revision);
      model.set(
        id,
        entries.map(({ key, body }) => ({ key, body: String(body) })),
      );
    }
    return model;
  }

  #nextDirectory(): string {
    const directory = join(this.#root, `place-${this.#opened++}`);
    mkdirSync(directory);
    return directory;
  }
}

test('whatever is opened, answered, reopened or cut off, in any order: acknowledged ⊆ stored ⊆ sent', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 5, maxLength: 40 }), async (steps) => {
      const history = new History();
      await history.begin();
      for (const action of steps) await history.perform(action);
      await history.end();
    }),
    { numRuns: 40 },
  );
}, 120_000);
