import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { believe, explain, suspects } from '../../src/diagnosis/index.ts';
import { openStaves } from '../../src/engraving/index.ts';
import { predictNote } from '../../src/mechanism/index.ts';
import { openRun, situationOf } from '../../src/runs/book.ts';
import type { RunState } from '../../src/runs/run-state.ts';
import type { StepView } from '../../src/runs/view.ts';
import { WhyView } from '../../src/runs/why-schema.ts';
import { openRunsBench, type RunsBench } from '../support/runs-bench.ts';
import { gsharpScrew, openAsDirector, walkTo } from '../support/walk-to.ts';

let bench: RunsBench;
beforeAll(async () => {
  bench = await openRunsBench();
});
afterAll(() => bench.dispose());

async function stateOf(id: string): Promise<RunState> {
  return (await bench.store.readRun(id))?.state as RunState;
}

const isConfirming = ({ id }: StepView): boolean => id.startsWith('confirm/');
const sum = (numbers: readonly number[]): number => numbers.reduce((all, one) => all + one, 0);

/** Beliefs that grew answer by answer may drift by some millionths from those that were made at once. */
const digits = 4;

describe('why, before anything was found', () => {
  it('says so, compares nothing, and still shows what is common and what to look at', async () => {
    const why = await bench.runs.why(await openAsDirector(bench));
    expect(why.last).toBeNull();
    expect(why.sentences).toEqual([expect.stringMatching(/^Nothing has been looked at or played yet\./)]);
    expect(why.suspects.every(({ before, change }) => before === null && change === null)).toBe(true);
    expect(sum(why.suspects.map(({ now }) => now.probability))).toBeCloseTo(1, 9);
    expect(why.pattern.notes).toEqual([]);
    expect(why.checks.length).toBeGreaterThan(0);
  });
});

describe('why, after the notes of a slack screw', () => {
  let why: WhyView;
  let state: RunState;
  beforeAll(async () => {
    const id = await walkTo(bench, isConfirming);
    why = await bench.runs.why(id);
    state = await stateOf(id);
  });

  it('has the shape that it says it has', () => {
    expect(WhyView.parse(why)).toEqual(why);
  });

  it('shows six suspects, "nothing wrong" and "everything else", whose shares sum to one at either time', () => {
    expect(why.suspects.map(({ kind }) => kind)).toEqual([
      ...Array.from({ length: 6 }, () => 'fault'),
      'nothing-wrong',
      'everything-else',
    ]);
    expect(sum(why.suspects.map(({ now }) => now.probability))).toBeCloseTo(1, 9);
    expect(sum(why.suspects.map(({ before }) => before?.probability ?? Number.NaN))).toBeCloseTo(1, 9);
  });

  it('says what the diagnosis says, now and before', () => {
    const now = suspects(bench.model, believe(bench.model, state.findings, 'director'));
    const checks = state.findings.filter((finding) => 'check' in finding);
    const before = suspects(bench.model, believe(bench.model, checks, 'director'));
    expect(why.last).toMatchObject({ kind: 'notes' });
    expect(why.suspects[0]?.fault).toBe(gsharpScrew);
    for (const { kind, fault, now: is, before: was } of why.suspects) {
      if (kind === 'everything-else') continue;
      const shareIn = ({ faults, healthy }: typeof now): number =>
        kind === 'nothing-wrong' ? healthy : (faults.find((one) => one.fault === fault)?.probability ?? 0);
      expect(is.probability).toBeCloseTo(shareIn(now), digits);
      expect(was?.probability).toBeCloseTo(shareIn(before), digits);
    }
    expect(why.sentences).toEqual(
      explain(bench.model, believe(bench.model, state.findings, 'director'), state.findings).sentences,
    );
  });

  it('says which rose, which fell, and which stand as before', () => {
    for (const { now, before, change } of why.suspects) {
      const by = now.probability - (before?.probability ?? 0);
      if (by >= 0.01) expect(change).toMatch(/^rose/);
      else if (by <= -0.01) expect(change).toMatch(/^fell/);
      else expect(change).toBe('same');
    }
    expect(why.suspects[0]?.change).toBe('rose');
    expect(why.suspects.some(({ change }) => change === 'fell')).toBe(true);
  });

  it('lays the notes out from low to high with what was heard', () => {
    expect(why.pattern.notes.slice(0, 5).map(({ note, words }) => `${note} ${words}`)).toEqual([
      'Bb3 silent',
      'B3 silent',
      'C4 speaks',
      'C#4 unsteady',
      'D4 speaks',
    ]);
    expect(why.pattern.notes).toHaveLength(state.findings.filter((finding) => 'note' in finding).length);
  });

  it('has the screw predict that low C sharp, B and B flat suffer or fail, and that low D and C speak', () => {
    const [lead] = why.pattern.suspects;
    expect(lead?.faults).toEqual([gsharpScrew]);
    const answerOf = (note: string) =>
      lead?.predictions[why.pattern.notes.findIndex((one) => one.note === note)]?.answers;
    expect(answerOf('C#4')).toBe('suffers');
    expect(answerOf('B3')).toBe('fails');
    expect(answerOf('Bb3')).toBe('fails');
    expect(answerOf('D4')).toBe('speaks');
    expect(answerOf('C4')).toBe('speaks');
    expect(lead?.agrees).toBe(lead?.heard);
  });

  it('shows where the runner-up disagrees: low C spoke and should not have', () => {
    const [, runnerUp] = why.pattern.suspects;
    const low = why.pattern.notes.findIndex(({ note }) => note === 'C4');
    expect(runnerUp?.faults).toEqual([why.suspects[1]?.fault]);
    expect(runnerUp?.predictions[low]).toMatchObject({ answers: 'suffers', fits: 'disagrees' });
    expect(runnerUp?.agrees).toBe((runnerUp?.heard ?? 0) - 1);
  });

  it('predicts what the mechanism predicts, in one severity for all notes', () => {
    const { instrument } = bench.model;
    const words = { none: 'speaks', slight: 'suffers-a-little', clear: 'suffers', severe: 'fails' } as const;
    for (const { faults, predictions } of why.pattern.suspects) {
      const told = predictions.map(({ answers }) => answers);
      const possible = (['slight', 'moderate', 'gross'] as const).map((severity) =>
        why.pattern.notes.map(({ fingering }) => {
          const placed = faults.map((id) => ({ fault: instrument.fault(id), severity }));
          const { degree, sounded } = predictNote(instrument, instrument.fingering(fingering), placed);
          return sounded === null ? words[degree] : 'another-note';
        }),
      );
      expect(possible).toContainEqual(told);
    }
  });

  it('puts the check that is being asked for first, and says what each answer would leave', () => {
    const [first] = why.checks;
    expect(first).toMatchObject({
      check: 'tap@link.fsharp-holds-gsharp',
      isAskedNow: true,
      duration: 'about 20 seconds',
    });
    expect(why.checks.filter(({ isAskedNow }) => isAskedNow)).toHaveLength(1);
    for (const { answer, leads, probability } of first?.answers ?? []) {
      const findings = [...state.findings, { check: 'tap@link.fsharp-holds-gsharp', saw: answer }];
      const [lead] = suspects(bench.model, believe(bench.model, findings, 'director')).faults;
      expect(leads).toBe(lead?.title);
      expect(probability).toBeCloseTo(lead?.probability ?? 0, digits);
    }
  });

  it('asks for nothing that has been asked and nothing that this person cannot do', () => {
    const book = openRun(bench.content, 'alto-saxophone', 'director', openStaves());
    const { tools, person } = situationOf(book, state);
    const played = new Set(why.pattern.notes.map(({ fingering }) => `play@${fingering}`));
    for (const { check } of why.checks) {
      expect(played.has(check)).toBe(false);
      expect(bench.model.check(check).persons).toContain(person);
      expect(bench.model.check(check).tools.filter((tool) => !tools.includes(tool))).toEqual([]);
    }
  });
});
