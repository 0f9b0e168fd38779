import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { advance } from '../../src/runs/advance.ts';
import { beliefOf, openRun, type RunBook } from '../../src/runs/book.ts';
import { evidenceOf, type RunState, reviveState } from '../../src/runs/run-state.ts';
import type { Opening } from '../../src/runs/schema.ts';
import { openRunsBench, type RunsBench } from '../support/runs-bench.ts';
import { nextKey } from '../support/walk.ts';

let bench: RunsBench;
let book: RunBook;
beforeAll(async () => {
  bench = await openRunsBench();
  book = openRun(bench.content, 'alto-saxophone', 'director', bench.staves);
});
afterAll(() => bench.dispose());

const opening: Opening = {
  instrument: 'alto-saxophone',
  person: 'director',
  tools: ['screwdriver', 'paper', 'leak-light', 'second-person', 'own-mouthpiece'],
};

async function open(complaint: string): Promise<string> {
  return (await bench.runs.open({ ...opening, complaint }, nextKey())).id;
}

async function tick(id: string, ticked: readonly string[]): Promise<void> {
  const { revision } = await bench.runs.view(id);
  const answer = { type: 'proposals' as const, ticked: [...ticked] };
  await bench.runs.answer(id, { revision, key: nextKey(), answer });
}

async function choose(id: string, choice: string): Promise<void> {
  const { revision } = await bench.runs.view(id);
  await bench.runs.answer(id, { revision, key: nextKey(), answer: { type: 'choice', choice } });
}

describe('a complaint in words', () => {
  it('is said back before anything else, with nothing ticked', async () => {
    const { step } = await bench.runs.view(await open('low B and Bb don’t speak since it was dropped'));
    expect(step.kind).toBe('proposals');
    expect(step.proposals.map(({ says }) => says)).toEqual([
      'Low B flat and low B do not speak.',
      'It was dropped or knocked, or has a fresh dent.',
    ]);
    expect(step.proposals.every(({ isTicked }) => !isTicked)).toBe(true);
  });

  it.each(['', 'hello', '🎷😭', '低音が出ない'])(
    '"%s" asks for nothing to be confirmed',
    async (complaint) => {
      const { step } = await bench.runs.view(await open(complaint));
      expect(step.id).toBe('owner');
      expect(step.proposals).toEqual([]);
    },
  );

  it('is cut up by what was made of its words, none of them lost', async () => {
    const complaint = 'low C is silent, the gizmo rattles since Tuesday';
    const { step } = await bench.runs.view(await open(complaint));
    expect(step.reading?.words.map(({ text }) => text).join('')).toBe(complaint);
    expect(step.reading?.words.filter(({ is }) => is === 'counts').map(({ text }) => text)).toEqual([
      'low C',
      'silent',
    ]);
    expect(step.reading).toMatchObject({ known: ['rattles'], missed: ['gizmo', 'Tuesday'] });
  });

  it('is told once where nothing of it is to be confirmed, and not where nothing was said', async () => {
    const id = await open('it frobnicates');
    const { step } = await bench.runs.view(id);
    expect(step.id).toBe('owner');
    expect(step.reading).toMatchObject({ known: [], missed: ['frobnicates'] });
    await choose(id, 'school');
    expect((await bench.runs.view(id)).step.reading).toBeNull();
    expect((await bench.runs.view(await open(''))).step.reading).toBeNull();
  });

  it('counts for nothing until it is ticked, and then as what was observed', () => {
    const begun = book.begin({ ...opening, complaint: 'low C is silent, it was dropped' });
    const silent = book.begin(opening);
    expect(beliefOf(book, begun)).toEqual(beliefOf(book, silent));
    const none = advance(book, begun, { type: 'proposals', ticked: [] });
    expect(beliefOf(book, none)).toEqual(beliefOf(book, silent));
    const all = advance(book, begun, { type: 'proposals', ticked: begun.proposals.map(({ id }) => id) });
    expect(all.findings).toEqual([
      { note: 'C4', fingering: 'fg.C4', answered: 'silent' },
      { check: 'dropped@instrument', saw: 'dropped' },
    ]);
  });

  it('can be passed over in one tap', async () => {
    const id = await open('low C is silent');
    await choose(id, 'none');
    const { step, conversation } = await bench.runs.view(id);
    expect(step.id).toBe('owner');
    expect(conversation.at(-1)?.answered).toBe('None of this is right');
  });

  it('cancels out where two ticks contradict each other', () => {
    const contradicting = ['silent', 'speaks'].map((answered, index) => ({
      id: `proposal-${index + 1}`,
      says: `It is ${answered}.`,
      findings: [{ note: 'C4', fingering: 'fg.C4', answered: answered as 'silent' }],
      isLikely: true,
    }));
    const begun: RunState = {
      ...book.begin({ ...opening, complaint: 'low C is silent' }),
      proposals: contradicting,
    };
    const after = advance(book, begun, { type: 'proposals', ticked: ['proposal-2', 'proposal-1'] });
    expect(after.findings).toEqual([]);
  });

  it('refuses a tick that was never offered, and ticks where nothing is proposed', async () => {
    const id = await open('low C is silent');
    await expect(tick(id, ['proposal-7'])).rejects.toMatchObject({ code: 'unknown-answer' });
    await tick(id, ['proposal-1']);
    await expect(tick(id, ['proposal-1'])).rejects.toMatchObject({ code: 'unknown-answer' });
  });

  it('shows what was ticked on the play-test page, where it can be changed', async () => {
    const id = await open('low C is silent');
    await tick(id, ['proposal-1']);
    for (const choice of ['school', 'yes', 'none']) await choose(id, choice);
    for (
      let { step } = await bench.runs.view(id);
      step.kind !== 'notes';
      { step } = await bench.runs.view(id)
    ) {
      await choose(id, step.kind === 'check' ? 'could-not-tell' : step.choices[0]!.id);
    }
    const { step } = await bench.runs.view(id);
    expect(step.notes.find(({ note }) => note === 'C4')?.answered).toBe('silent');
    expect(step.notes.filter(({ answered }) => answered !== null)).toHaveLength(1);
  });

  it('can be ticked anew later, and taken back', async () => {
    const id = await open('low C is silent, it was dropped');
    await tick(id, ['proposal-1']);
    await choose(id, 'school');
    const earlier = await bench.runs.earlierStep(id, 1);
    expect(earlier.step.proposals.map(({ isTicked }) => isTicked)).toEqual([true, false]);
    const { revision } = await bench.runs.view(id);
    const answer = { type: 'proposals' as const, ticked: ['proposal-2'] };
    await bench.runs.change(id, { revision, key: nextKey(), entry: 1, answer });
    const changed = await bench.runs.view(id);
    expect(changed.conversation.map(({ answered }) => answered)).toEqual([
      'It was dropped or knocked, or has a fresh dent',
      'The school or the band',
    ]);
    for (const _ of changed.conversation) {
      const { revision: now } = await bench.runs.view(id);
      await bench.runs.undo(id, { revision: now, key: nextKey() });
    }
    expect((await bench.runs.view(id)).step.kind).toBe('proposals');
  });

  it('stands on the ticket as it was said, with what was confirmed of it', async () => {
    const id = await open('low C is silent, it was dropped');
    await tick(id, ['proposal-2']);
    await choose(id, 'stop');
    for (
      let { step } = await bench.runs.view(id);
      step.kind !== 'outcome';
      { step } = await bench.runs.view(id)
    ) {
      await choose(id, step.choices[0]!.id);
    }
    const { ticket } = await bench.runs.outcome(id);
    expect(ticket?.complaint).toBe('low C is silent, it was dropped');
    expect(ticket?.confirmed).toEqual(['It was dropped or knocked, or has a fresh dent.']);
  });

  it('is missing from a run of before complaints were read, which goes on as it was', () => {
    const { proposals: _p, confirmed: _c, told: _t, ...stored } = book.begin(opening);
    const revived = reviveState(JSON.parse(JSON.stringify(stored)));
    expect(evidenceOf(revived)).toEqual([]);
    expect(advance(book, revived, { type: 'choice', choice: 'school' }).told).toEqual([]);
  });
});
