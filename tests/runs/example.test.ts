/** The example run of the start page: read like any other run, changed by nothing, kept nowhere. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Runs } from '../../src/runs/runs.ts';
import type { RunView } from '../../src/runs/view.ts';
import { openRunsBench, type RunsBench } from '../support/runs-bench.ts';
import { nextKey } from '../support/walk.ts';

let bench: RunsBench;
let runs: Runs;
beforeAll(async () => {
  bench = await openRunsBench();
  runs = bench.runs;
});
afterAll(() => bench.dispose());

/** All pages, as somebody reads them who goes on and on. */
async function readThrough(): Promise<RunView[]> {
  const pages = [await runs.view('example')];
  for (let next = pages[0]!.example?.next; next !== null && next !== undefined; ) {
    pages.push(await runs.view(next));
    next = pages.at(-1)!.example?.next;
  }
  return pages;
}

describe('reading the example', () => {
  it('leads page by page from the first question to a mended instrument, and says that it is invented', async () => {
    const pages = await readThrough();
    expect(pages.length).toBeGreaterThan(10);
    for (const [index, { example, conversation }] of pages.entries()) {
      expect(example).toMatchObject({ page: index + 1, pages: pages.length });
      expect(example?.invented).toContain('invented');
      expect(conversation.every(({ canChange }) => !canChange)).toBe(true);
    }
    expect(pages[0]!.conversation).toEqual([]);
    expect(pages.at(-1)!.step.outcome?.id).toBe('mended');
    expect(pages.at(-1)!.closed).toBe(true);
  });

  it('says at each step what was answered there: an answer that the step offers', async () => {
    for (const { step, example } of (await readThrough()).slice(0, -1))
      expect(
        step.kind === 'proposals'
          ? step.proposals.map(({ says }) => says.replace(/\.$/, ''))
          : step.choices.map(({ label }) => label),
        step.id,
      ).toContain(example?.answered);
  });

  it('shows the notes of the play test as they were heard, together on one page', async () => {
    const notes = (await readThrough()).filter(({ step }) => step.id === 'play-test');
    expect(notes).toHaveLength(1);
    const first = notes[0]!.step.notes.filter(({ group }) => group === 'first');
    expect(first.every(({ answered }) => answered !== null)).toBe(true);
    expect(new Set(first.map(({ answered }) => answered)).size).toBeGreaterThan(1);
  });

  it('has its reasons and its outcome like any other run', async () => {
    const last = (await readThrough()).at(-1)!;
    expect((await runs.why(last.id)).sentences.length).toBeGreaterThan(0);
    expect((await runs.outcome(last.id)).done.join()).toContain('Turned five eighths of a turn clockwise');
    await expect(runs.outcome('example-0')).rejects.toMatchObject({ code: 'run-not-ended' });
  });

  it('goes back as it goes on', async () => {
    const pages = await readThrough();
    expect(pages[0]!.example?.previous).toBeNull();
    expect(pages.slice(1).map(({ example }) => example?.previous)).toEqual(
      pages.slice(0, -1).map(({ id }) => id),
    );
  });

  it('is found however its code is typed, and beyond its end is no run', async () => {
    expect((await runs.view('exam-ple-3')).id).toBe('example-3');
    await expect(runs.view('example-400')).rejects.toMatchObject({ code: 'unknown-run' });
  });
});

describe('changing the example', () => {
  it('is refused with what to do instead, whatever is tried, and changes nothing', async () => {
    const before = await runs.view('example-2');
    const { revision } = before;
    const answer = { type: 'choice', choice: before.step.choices[0]!.id } as const;
    const key = nextKey();
    for (const attempt of [
      () => runs.answer('example-2', { revision, key, answer }),
      () => runs.answer('example-2', { revision: revision + 5, key, answer }),
      () => runs.undo('example-2', { revision, key }),
      () => runs.change('example-2', { revision, key, entry: 1, answer: { type: 'choice', choice: 'stop' } }),
    ]) {
      await expect(attempt()).rejects.toMatchObject({
        code: 'example-only',
        message: expect.stringContaining('Start a run of your own'),
      });
    }
    expect(await runs.view('example-2')).toEqual(before);
  });

  it('leaves nothing in the store, however often it is read', async () => {
    await readThrough();
    expect(await bench.store.listRuns({ limit: 10 })).toEqual([]);
  });
});

describe('beside the example', () => {
  it('real runs are opened, answered and read as before', async () => {
    const opening = { instrument: 'alto-saxophone', person: 'director', tools: [] } as const;
    const { id } = await runs.open({ ...opening, tools: [] }, nextKey());
    const view = await runs.view(id);
    expect(view.example).toBeNull();
    const answer = { type: 'choice', choice: view.step.choices[0]!.id } as const;
    await runs.answer(id, { revision: 0, key: nextKey(), answer });
    expect((await runs.view(id)).revision).toBe(1);
  });
});
