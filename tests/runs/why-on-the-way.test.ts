import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { StepView } from '../../src/runs/view.ts';
import { makePatient } from '../support/patient.ts';
import { openRunsBench, type RunsBench } from '../support/runs-bench.ts';
import { nextKey, walkToEnd } from '../support/walk.ts';
import { give, gsharpScrew, openAsDirector, walkTo } from '../support/walk-to.ts';

let bench: RunsBench;
beforeAll(async () => {
  bench = await openRunsBench();
});
afterAll(() => bench.dispose());

const isConfirming = ({ id }: StepView): boolean => id.startsWith('confirm/');

describe('why, on the way of a run', () => {
  it('names two suspects that a check tells apart, while several are likely', async () => {
    const id = await walkTo(
      bench,
      ({ kind, id: step }) => kind === 'check' && !step.startsWith('set-up'),
      'leaks@cup.palm-d',
    );
    const { checks, suspects: rows } = await bench.runs.why(id);
    const [, one = '', other = ''] =
      /^Tells these two apart: “(.*)” and “(.*)”\.$/.exec(checks[0]?.tells ?? '') ?? [];
    const titles = rows.map(({ title }) => title);
    expect(titles.slice(0, 4)).toEqual(expect.arrayContaining([one, other]));
    expect(new Set(checks[0]?.answers.map(({ leads }) => leads)).size).toBeGreaterThan(1);
  });

  it('compares each note with the one before while the notes are being played', async () => {
    const id = await walkTo(bench, ({ notes }) => notes.filter((row) => row.answered !== null).length === 3);
    const why = await bench.runs.why(id);
    expect(why.last).toMatchObject({ kind: 'answer' });
    expect(why.pattern.notes).toHaveLength(3);
  });

  it('counts a note that could not be told neither for nor against anybody', async () => {
    const id = await walkTo(bench, ({ kind }) => kind === 'notes');
    await give(bench, id, { type: 'note', fingering: 'fg.D4', answered: 'could-not-tell' });
    const { last, suspects: rows, pattern } = await bench.runs.why(id);
    expect(last?.answered).toBe('could not tell');
    expect(rows.every(({ change }) => change === 'same')).toBe(true);
    expect(pattern.suspects.map(({ heard }) => heard)).toEqual([0, 0, 0, 0]);
    expect(pattern.suspects[0]?.predictions[0]?.fits).toBe('not-heard');
  });

  it('takes a note that came out otherwise than predicted as disagreeing, and the predicted one as agreeing', async () => {
    const id = await walkTo(bench, ({ kind }) => kind === 'notes');
    const sticks = 'sticks@cup.gsharp';
    for (const [fingering, sounded] of [
      ['fg.Gs4', 'G4'],
      ['fg.Gs5', 'E5'],
    ] as const) {
      await give(bench, id, { type: 'note', fingering, answered: 'wrong', sounded });
    }
    const { notes, suspects: rows } = (await bench.runs.why(id)).pattern;
    expect(notes.map(({ words }) => words)).toEqual(['another note: low G', 'another note: middle E']);
    expect(rows.find(({ faults }) => faults.join() === sticks)?.predictions).toMatchObject([
      { answers: 'another-note', words: 'another note: low G', fits: 'agrees' },
      { answers: 'another-note', words: 'another note: high G', fits: 'disagrees' },
    ]);
  });

  it('sets two faults at once before each of them alone, where only both explain what was heard', async () => {
    const id = await walkTo(bench, ({ kind }) => kind === 'notes');
    for (const [fingering, sounded] of [
      ['fg.Gs4', 'G4'],
      ['fg.Gs5', 'G5'],
      ['fg.Eb4', 'D4'],
      ['fg.Eb5', 'D5'],
    ] as const) {
      await give(bench, id, { type: 'note', fingering, answered: 'wrong', sounded });
    }
    const [both, ...alone] = (await bench.runs.why(id)).pattern.suspects;
    expect(both?.faults.toSorted()).toEqual(['sticks@cup.gsharp', 'sticks@cup.low-eb']);
    expect(both?.title).toMatch(/^Both at once: /);
    expect(both).toMatchObject({ agrees: 4, heard: 4 });
    const parts = alone.filter(({ faults }) => both?.faults.includes(faults[0] ?? ''));
    expect(parts.map(({ agrees }) => agrees)).toEqual([2, 2]);
  });

  it('shows, after a treatment and before anything is played again, what the treatment changed', async () => {
    const id = await walkTo(bench, ({ id: step }) => step.includes('retest'));
    const why = await bench.runs.why(id);
    expect(why.last).toMatchObject({ kind: 'treatment', asked: 'F sharp bar to the G sharp cup' });
    const screw = why.suspects.find(({ fault }) => fault === gsharpScrew);
    expect(screw?.before?.probability).toBeGreaterThan(0.9);
    expect(screw?.change).toBe('fell');
    expect(why.suspects.find(({ kind }) => kind === 'nothing-wrong')?.change).toBe('rose');
    expect(why.sentences.join(' ')).toMatch(
      /have nothing wrong at all\. If something is wrong after all, it is most likely this: The screw .* is backed out \(about 1 in 10\)\./,
    );
  });

  it('explains a mended instrument as it was before, with nothing left to ask', async () => {
    const id = await walkTo(bench, () => false);
    const { step } = await bench.runs.view(id);
    const why = await bench.runs.why(id);
    expect(step.outcome?.id).toBe('mended');
    expect(why.moment).toBe('before-treatment');
    expect(why.suspects[0]).toMatchObject({ fault: gsharpScrew, now: { words: 'nearly all' } });
    expect(why.sentences).toEqual([step.outcome?.lead, ...(step.outcome?.explanation ?? [])]);
    expect(why.checks).toEqual([]);
  });

  it('is there at every step, and its shares sum to one at each', async () => {
    const id = await openAsDirector(bench);
    const seen = new Set<string>();
    const runs = {
      ...bench.runs,
      view: async (code: string) => {
        const { suspects, revision } = await bench.runs.why(code);
        const view = await bench.runs.view(code);
        expect(revision).toBe(view.revision);
        expect(suspects.reduce((sum, { now }) => sum + now.probability, 0)).toBeCloseTo(1, 9);
        seen.add(view.step.kind);
        return view;
      },
    };
    await walkToEnd(runs, id, () => makePatient(bench.model, gsharpScrew));
    expect([...seen].sort()).toEqual(['check', 'instruction', 'notes', 'outcome', 'question']);
  });

  it('follows an answer, and its being taken back', async () => {
    const id = await walkTo(bench, isConfirming);
    const { revision } = await bench.runs.view(id);
    const before = await bench.runs.why(id);
    await give(bench, id, { type: 'choice', choice: 'stirs' });
    const after = await bench.runs.why(id);
    expect(after.revision).toBe(revision + 1);
    expect(after.suspects[0]?.now.probability).toBeGreaterThan(before.suspects[0]?.now.probability ?? 1);
    await bench.runs.undo(id, { revision: revision + 1, key: nextKey() });
    expect(await bench.runs.why(id)).toEqual({ ...before, revision: revision + 2 });
  });

  it('is refused for a run that nobody knows', async () => {
    await expect(bench.runs.why('nobody')).rejects.toMatchObject({ code: 'unknown-run' });
  });
});
