/** What a run says of its progress: what is ruled out, and about how many checks are still to come. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { RunView } from '../../src/runs/view.ts';
import { makePatient } from '../support/patient.ts';
import { openRunsBench, type RunsBench } from '../support/runs-bench.ts';
import { walkToEnd } from '../support/walk.ts';
import { give, gsharpScrew, openAsDirector, walkTo } from '../support/walk-to.ts';

let bench: RunsBench;
beforeAll(async () => {
  bench = await openRunsBench();
});
afterAll(() => bench.dispose());

/** Every view of a run to its end, with an instrument that has this fault. */
async function viewsOf(fault: string): Promise<RunView[]> {
  const id = await openAsDirector(bench);
  const views = new Map<number, RunView>();
  const runs = {
    ...bench.runs,
    view: async (code: string) => {
      const view = await bench.runs.view(code);
      views.set(view.revision, view);
      return view;
    },
  };
  await walkToEnd(runs, id, () => makePatient(bench.model, fault), { 'owner-word': 'no' });
  return [...views.values()];
}

describe('progress', () => {
  test('counts what is ruled out by what it is about, and the parts make the whole', async () => {
    const id = await walkTo(bench, ({ kind, id: step }) => kind === 'check' && !step.startsWith('set-up'));
    const { ruledOut } = (await bench.runs.view(id)).progress;
    const [whole = [], ...parts] = [...ruledOut.matchAll(/(\d+) of (\d+)/g)].map(([, out, all]) => [
      Number(out),
      Number(all),
    ]);
    expect(parts.length).toBeGreaterThan(2);
    for (const side of [0, 1])
      expect(parts.reduce((sum, part) => sum + (part[side] ?? 0), 0)).toBe(whole[side]);
  });

  test('counts the present check among those to come, and after it there is one less when it shows what was likely', async () => {
    const views = (await viewsOf('leaks@cup.palm-d')).filter(
      ({ step }) => step.kind === 'check' && !step.id.startsWith('set-up'),
    );
    expect(views.length).toBeGreaterThan(1);
    for (const { progress } of views) {
      expect(progress.checks?.from).toBeGreaterThanOrEqual(1);
      expect(progress.ahead).toContain('this one counted');
    }
    expect(views.at(-1)?.progress.checks?.from).toBe(1);
  });

  test.each([gsharpScrew, 'leaks@cup.palm-d', 'set-up@setup.reed'])(
    'never rises without saying so: %s',
    async (fault) => {
      const all = await viewsOf(fault);
      // After a treatment it is counted anew.
      const pairs = all.slice(1).map((view, index) => [all[index]?.progress, view.progress] as const);
      const sum = (progress: RunView['progress'] | undefined) =>
        (progress?.checks?.from ?? 0) + (progress?.checks?.to ?? 0);
      const compared = pairs.filter(([before, now]) => before?.checks != null && now.checks !== null);
      expect(compared.length).toBeGreaterThan(10);
      for (const [before, now] of compared) {
        expect(now.hasRisen, now.ahead).toBe(sum(now) > sum(before));
        expect(now.ahead.includes('more than it looked')).toBe(now.hasRisen);
      }
    },
  );

  test('stays as it is while the notes are being played', async () => {
    const id = await walkTo(bench, ({ id: step }) => step === 'play-test');
    const { progress } = await bench.runs.view(id);
    expect(progress.ahead).toMatch(/^After these notes /);
    await give(bench, id, { type: 'note', fingering: 'fg.D4', answered: 'silent' });
    expect((await bench.runs.view(id)).progress.ahead).toBe(progress.ahead);
  });

  test('says before the notes how many there are, and nothing of checks once it is known what to do', async () => {
    const begun = await openAsDirector(bench);
    expect((await bench.runs.view(begun)).progress.ahead).toMatch(/^Still to come: \d+ notes to play, and /);
    const turning = await walkTo(bench, ({ id: step }) => step === 'procedure.turn-screw.turn-quarter');
    expect((await bench.runs.view(turning)).progress).toMatchObject({
      checks: null,
      ahead: 'What to do is known. When it is done, it is tried once more.',
    });
  });
});
