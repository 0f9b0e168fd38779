/** What every step of a real run carries for somebody who does not understand it, or cannot do it. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { StepView } from '../../src/runs/view.ts';
import { openRunsBench, type RunsBench } from '../support/runs-bench.ts';
import { give, walkTo } from '../support/walk-to.ts';

let bench: RunsBench;
const steps: StepView[] = [];
beforeAll(async () => {
  bench = await openRunsBench();
  const look = (step: StepView) => {
    steps.push(step);
    return false;
  };
  await walkTo(bench, look);
  await walkTo(bench, look, 'set-up@setup.reed');
  // Two whole runs, on a machine that may be busy.
}, 60_000);
afterAll(() => bench.dispose());

describe('every step', () => {
  test('says itself in plainer words, with every name filled in', () => {
    const asked = steps.filter(({ kind }) => kind !== 'outcome');
    expect(new Set(asked.map(({ id }) => id)).size).toBeGreaterThan(25);
    expect(asked.filter(({ plainly }) => plainly === '' || plainly.includes('{{'))).toEqual([]);
  });

  test('gives the meaning of the trade’s words that stand on it', () => {
    const find = steps.find(({ id }) => id === 'procedure.turn-screw.fit-driver');
    expect(find?.terms.map(({ word }) => word)).toEqual(expect.arrayContaining(['slot', 'blade', 'pad']));
  });

  test('can be declined by a quiet answer', () => {
    const asked = steps.filter(({ kind }) => kind !== 'outcome');
    expect(asked.filter(({ choices }) => !choices.some(({ tone }) => tone === 'quiet'))).toEqual([]);
  });
});

describe('a caution', () => {
  test('is told in full the first time and in a few words from then on, also after an answer is taken back', async () => {
    const id = await walkTo(bench, ({ id: step }) => step === 'ready-place');
    const hearing = /Play softly, one instrument at a time/;
    expect((await bench.runs.view(id)).step.cautions).toContainEqual(expect.stringMatching(hearing));
    const later = await walkTo(bench, ({ kind }) => kind === 'notes');
    const { step, revision } = await bench.runs.view(later);
    expect(step.cautions).toEqual([]);
    expect(step.reminders).toEqual([
      { brief: 'play softly, and stop if ears ring', text: expect.stringMatching(hearing) },
    ]);
    await give(bench, id, { type: 'choice', choice: 'done' });
    await bench.runs.undo(id, {
      revision: (await bench.runs.view(id)).revision,
      key: `undo-${revision}-caution`,
    });
    expect((await bench.runs.view(id)).step.cautions).toContainEqual(expect.stringMatching(hearing));
  });
});
