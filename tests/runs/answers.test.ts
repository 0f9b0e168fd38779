import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Problem } from '../../src/problems.ts';
import type { RunState } from '../../src/runs/run-state.ts';
import type { AnswerBody } from '../../src/runs/schema.ts';
import { makePatient } from '../support/patient.ts';
import { openRunsBench, type RunsBench } from '../support/runs-bench.ts';
import { nextKey, walkToEnd } from '../support/walk.ts';

let bench: RunsBench;
beforeAll(async () => {
  bench = await openRunsBench();
});
afterAll(() => bench.dispose());

const opening = { instrument: 'alto-saxophone', person: 'director', tools: ['paper' as const] } as const;
const choice = (id: string): AnswerBody => ({ type: 'choice', choice: id });

async function open(): Promise<string> {
  return (await bench.runs.open({ ...opening, tools: ['paper'] }, nextKey())).id;
}

async function give(id: string, ...choices: string[]): Promise<void> {
  for (const one of choices) {
    const { revision } = await bench.runs.view(id);
    await bench.runs.answer(id, { revision, key: nextKey(), answer: choice(one) });
  }
}

/** Intake, the set-up checks, and the play-test page: the run stands where notes are played. */
async function openAtNotes(): Promise<string> {
  const id = await open();
  const patient = makePatient(bench.model, null);
  for (;;) {
    const { step } = await bench.runs.view(id);
    if (step.kind === 'notes') return id;
    const check = step.id.split('/')[1];
    await give(id, check === undefined ? step.choices[0]!.id : patient.answerCheck(check));
  }
}

async function stateOf(id: string): Promise<RunState> {
  return (await bench.store.readRun(id))!.state as RunState;
}

async function problemOf(work: Promise<unknown>): Promise<Problem> {
  const error = await work.then(
    () => undefined,
    (thrown: unknown) => thrown,
  );
  expect(error).toBeInstanceOf(Problem);
  return error as Problem;
}

describe('answering', () => {
  it('counts the same answer under the same key once', async () => {
    const id = await open();
    const request = { revision: 0, key: nextKey(), answer: choice('school') };
    const receipts = await Promise.all(Array.from({ length: 20 }, () => bench.runs.answer(id, request)));
    expect(receipts.filter(({ outcome }) => outcome === 'stored')).toHaveLength(1);
    expect(new Set(receipts.map(({ revision }) => revision))).toEqual(new Set([1]));
    expect((await bench.runs.view(id)).revision).toBe(1);
  });

  it('says that a repeat is a repeat even when the run has moved on', async () => {
    const id = await open();
    const request = { revision: 0, key: nextKey(), answer: choice('school') };
    await bench.runs.answer(id, request);
    await give(id, 'yes', 'none');
    expect(await bench.runs.answer(id, request)).toEqual({ outcome: 'repeated', revision: 1 });
  });

  it('refuses a key that came with another answer, and keeps the first', async () => {
    const id = await open();
    const key = nextKey();
    await bench.runs.answer(id, { revision: 0, key, answer: choice('school') });
    const problem = await problemOf(bench.runs.answer(id, { revision: 0, key, answer: choice('rental') }));
    expect(problem.code).toBe('key-reused');
    expect((await bench.runs.view(id)).conversation[0]?.answered).toBe('The school or the band');
  });

  it('tells a stale page so, with the revision that is current', async () => {
    const id = await open();
    await give(id, 'school');
    const problem = await problemOf(
      bench.runs.answer(id, { revision: 0, key: nextKey(), answer: choice('rental') }),
    );
    expect(problem.code).toBe('stale-step');
    expect(problem.extra).toEqual({ revision: 1 });
  });

  it('lets exactly one of two people who answer at once win', async () => {
    const id = await open();
    const wishes = ['school', 'rental'].map((one) =>
      bench.runs.answer(id, { revision: 0, key: nextKey(), answer: choice(one) }),
    );
    const settled = await Promise.allSettled(wishes);
    expect(settled.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
  });

  it('lists the answers when one is not known, and changes nothing', async () => {
    const id = await open();
    const problem = await problemOf(
      bench.runs.answer(id, { revision: 0, key: nextKey(), answer: choice('perhaps') }),
    );
    expect(problem.code).toBe('unknown-answer');
    expect(problem.extra.known).toContain('school');
    expect((await bench.runs.view(id)).revision).toBe(0);
  });

  it('lists the fingerings when a note is not known, and explains a note name that is none', async () => {
    const id = await openAtNotes();
    const { revision } = await bench.runs.view(id);
    const unknown = { type: 'note', fingering: 'fg.X9', answered: 'speaks' } as const;
    expect((await problemOf(bench.runs.answer(id, { revision, key: nextKey(), answer: unknown }))).code).toBe(
      'unknown-note',
    );
    const misspelt = { type: 'note', fingering: 'fg.D4', answered: 'wrong', sounded: 'H4' } as const;
    expect(
      (await problemOf(bench.runs.answer(id, { revision, key: nextKey(), answer: misspelt }))).message,
    ).toContain('H4');
  });

  it('takes the last word on a note', async () => {
    const id = await openAtNotes();
    for (const answered of ['silent', 'speaks'] as const) {
      const { revision } = await bench.runs.view(id);
      await bench.runs.answer(id, {
        revision,
        key: nextKey(),
        answer: { type: 'note', fingering: 'fg.D4', answered },
      });
    }
    const notes = (await stateOf(id)).findings.filter((finding) => 'note' in finding);
    expect(notes).toEqual([{ note: 'D4', fingering: 'fg.D4', answered: 'speaks' }]);
  });

  it('tells on the ticket with which fingering a note was played, where it was not the standard one', async () => {
    const id = await openAtNotes();
    for (const fingering of ['fg.E5', 'fg.E5-lowB']) {
      const { revision } = await bench.runs.view(id);
      const answer = { type: 'note', fingering, answered: 'unsteady' } as const;
      await bench.runs.answer(id, { revision, key: nextKey(), answer });
    }
    await give(id, 'stop', 'bench', 'later');
    const names = (await bench.runs.outcome(id)).ticket?.notes.map(({ name }) => name);
    expect(names).toEqual(['middle E', 'middle E, E with the low B touch']);
  });

  it('knows no run by a wrong code', async () => {
    expect((await problemOf(bench.runs.view('aaaa-bbbb-cccc'))).code).toBe('unknown-run');
  });

  it('opens one run for one key', async () => {
    const key = nextKey();
    const first = await bench.runs.open({ ...opening, tools: [] }, key);
    expect(await bench.runs.open({ ...opening, tools: [] }, key)).toEqual({ id: first.id, created: false });
  });
});

describe('taking back and changing', () => {
  it('takes answers back one by one to the beginning, and says when there is none left', async () => {
    const id = await open();
    await give(id, 'school', 'yes', 'none');
    for (const left of [2, 1, 0]) {
      const { revision } = await bench.runs.view(id);
      await bench.runs.undo(id, { revision, key: nextKey() });
      expect((await bench.runs.view(id)).conversation).toHaveLength(left);
    }
    const view = await bench.runs.view(id);
    expect(view.step.id).toBe('owner');
    expect((await problemOf(bench.runs.undo(id, { revision: view.revision, key: nextKey() }))).code).toBe(
      'nothing-to-undo',
    );
  });

  it('comes to the same state whether an answer was given at once or after another was taken back', async () => {
    const [straight, detour] = [await open(), await open()];
    await give(straight, 'school', 'yes', 'none');
    await give(detour, 'rental');
    await bench.runs.undo(detour, { revision: 1, key: nextKey() });
    await give(detour, 'school', 'yes', 'none');
    const { head: _one, ...first } = await stateOf(straight);
    const { head: _other, ...second } = await stateOf(detour);
    expect(second).toEqual(first);
  });

  it('changes an earlier answer and keeps the later ones that still fit', async () => {
    const id = await open();
    await give(id, 'school', 'yes', 'none', 'fit');
    const { step, answered } = await bench.runs.earlierStep(id, 3);
    expect(step.id).toBe('danger-look');
    expect(answered).toBe('No, it looks whole');
    await bench.runs.change(id, { revision: 4, key: nextKey(), entry: 1, answer: choice('family') });
    const view = await bench.runs.view(id);
    expect(view.conversation.map((turn) => turn.answered)).toEqual([
      'The player’s family',
      expect.any(String),
      'No, it looks whole',
      expect.any(String),
    ]);
    expect((await stateOf(id)).flow.context.words.owner).toBe('family');
  });

  it('drops later answers that no longer belong, and can be undone', async () => {
    const id = await open();
    await give(id, 'school', 'yes', 'none', 'fit');
    await bench.runs.change(id, { revision: 4, key: nextKey(), entry: 3, answer: choice('sharp') });
    const ended = await bench.runs.view(id);
    expect(ended.step.outcome?.id).toBe('bench-now');
    await bench.runs.undo(id, { revision: ended.revision, key: nextKey() });
    expect((await bench.runs.view(id)).step.id).toBe('danger-look');
  });

  it('keeps notes that were played when a question before them is answered otherwise', async () => {
    const id = await openAtNotes();
    const { revision } = await bench.runs.view(id);
    await bench.runs.answer(id, {
      revision,
      key: nextKey(),
      answer: { type: 'note', fingering: 'fg.D4', answered: 'silent' },
    });
    await bench.runs.change(id, {
      revision: revision + 1,
      key: nextKey(),
      entry: 1,
      answer: choice('family'),
    });
    expect((await stateOf(id)).findings).toContainEqual({
      note: 'D4',
      fingering: 'fg.D4',
      answered: 'silent',
    });
  });

  it('refuses to change an answer that was never given', async () => {
    const id = await open();
    await give(id, 'school');
    const wish = { revision: 1, key: nextKey(), entry: 9, answer: choice('family') };
    expect((await problemOf(bench.runs.change(id, wish))).code).toBe('unknown-answer');
  });
});

describe('editions', () => {
  it('lets a run go on with the flows that it began with after the flows have changed', async () => {
    const first = await openRunsBench();
    const { id } = await first.runs.open({ ...opening, tools: ['paper'] }, nextKey());
    const titleBefore = (await first.runs.view(id)).step.title;
    await first.store.close();

    const documents = structuredClone(first.content.documents) as Record<
      string,
      { states: { owner: { title: string } } }
    >;
    documents['main.yaml']!.states.owner.title = 'A new title';
    const { assembleContent } = await import('../../src/content/index.ts');
    const later = await openRunsBench(assembleContent(documents), first.directory);
    expect(later.content.edition).not.toBe(first.content.edition);
    expect((await later.runs.view(id)).step.title).toBe(titleBefore);
    const walk = await walkToEnd(later.runs, id, () => makePatient(first.model, null));
    expect(walk.end.kind).toBe('outcome');
    const fresh = await later.runs.open({ ...opening, tools: [] }, nextKey());
    expect((await later.runs.view(fresh.id)).step.title).toBe('A new title');
    await later.dispose();
  });

  it('has no outcome before the end', async () => {
    expect((await problemOf(bench.runs.outcome(await open()))).code).toBe('run-not-ended');
  });
});
