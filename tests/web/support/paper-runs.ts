/** Runs kept in memory, faithful to the interface: answers are appended, state is what replaying them gives. */
import { Problem } from '../../../src/problems.ts';
import { newRunCode } from '../../../src/runs/run-code.ts';
import type { Receipt, Runs } from '../../../src/runs/runs.ts';
import type { AnswerBody, Opening } from '../../../src/runs/schema.ts';
import type { RunView, StepView } from '../../../src/runs/view.ts';
import { findStep, listNoteRows, nextStep, readOutcome } from './paper-script.ts';
import { readWhy } from './paper-why.ts';

type Entry = { entry: number; step: string; answer: AnswerBody };
type PaperRun = {
  id: string;
  opening: Opening;
  revision: number;
  entries: Entry[];
  keys: Map<string, string>;
};

/** An empty shelf of runs. Only the alto saxophone is known. */
export function createPaperRuns(): Runs {
  const runs = new Map<string, PaperRun>();
  const openings = new Map<string, string>();

  const find = (id: string): PaperRun => {
    const run = runs.get(id);
    if (run === undefined)
      throw new Problem('unknown-run', 'No run has this code. Look at each letter and figure once more.');
    return run;
  };

  /** Appends under a key, once: the same key with the same wish again is a repeat. */
  const append = (
    run: PaperRun,
    request: { key: string; revision: number; entry?: number; answer?: AnswerBody },
    change: (revision: number) => void,
  ): Receipt => {
    const text = JSON.stringify([request.revision, request.entry, request.answer]);
    const before = run.keys.get(request.key);
    if (before === text) return { outcome: 'repeated', revision: run.revision };
    if (before !== undefined) throw new Problem('key-reused', 'That key belongs to another answer.');
    if (request.revision !== run.revision) {
      throw new Problem('stale-step', 'The answer belongs to an older step.', {
        extra: { revision: run.revision },
      });
    }
    change(run.revision + 1);
    run.revision += 1;
    run.keys.set(request.key, text);
    return { outcome: 'stored', revision: run.revision };
  };

  return {
    async open(opening, key) {
      const known = openings.get(key);
      if (known !== undefined) return { id: known, created: false };
      if (opening.instrument !== 'alto-saxophone') {
        throw new Problem('unknown-instrument', 'That instrument is not known here.', {
          fields: [{ pointer: '/instrument', detail: 'Known: alto-saxophone.' }],
          extra: { known: ['alto-saxophone'] },
        });
      }
      const id = newRunCode();
      runs.set(id, { id, opening, revision: 0, entries: [], keys: new Map() });
      openings.set(key, id);
      return { id, created: true };
    },
    view: async (id) => toView(find(id)),
    async answer(id, request) {
      const run = find(id);
      return append(run, request, (entry) => {
        const step = currentStep(run.entries);
        checkAnswer(step, request.answer);
        run.entries.push({ entry, step, answer: request.answer });
      });
    },
    async undo(id, request) {
      const run = find(id);
      return append(run, request, () => {
        if (run.entries.pop() === undefined) throw new Problem('nothing-to-undo', 'This is the first step.');
      });
    },
    async earlierStep(id, entry) {
      const run = find(id);
      const earlier = run.entries.find((each) => each.entry === entry);
      if (earlier === undefined) throw new Problem('unknown-answer', 'That answer is not in this run.');
      const { answer } = earlier;
      const step = toStep(earlier.step, run.entries);
      const notes = step.notes.filter((row) => answer.type === 'note' && row.fingering === answer.fingering);
      return { step: { ...step, notes }, answered: sayAnswer(earlier), revision: run.revision };
    },
    async change(id, request) {
      const run = find(id);
      return append(run, request, () => {
        const place = run.entries.findIndex((each) => each.entry === request.entry);
        const earlier = run.entries[place];
        if (earlier === undefined) throw new Problem('unknown-answer', 'That answer is not in this run.');
        checkAnswer(earlier.step, request.answer);
        const later = run.entries.slice(place + 1);
        run.entries = [...run.entries.slice(0, place), { ...earlier, answer: request.answer }];
        for (const each of later) if (currentStep(run.entries) === each.step) run.entries.push(each);
      });
    },
    async outcome(id) {
      if (currentStep(find(id).entries) !== 'end')
        throw new Problem('run-not-ended', 'This run is still under way.');
      return readOutcome();
    },
    async why(id) {
      return readWhy(id, find(id).revision);
    },
  };
}

function currentStep(entries: readonly Entry[]): string {
  return entries.reduce(
    (step, { answer }) => (answer.type === 'choice' ? nextStep(step, answer.choice) : step),
    'ready',
  );
}

function checkAnswer(step: string, answer: AnswerBody): void {
  const { kind, choices } = findStep(step);
  if (answer.type === 'choice') {
    const known = choices.map(({ id }) => id);
    if (known.includes(answer.choice)) return;
    throw new Problem('unknown-answer', `This step takes: ${known.join(', ')}.`, {
      fields: [{ pointer: '/answer/choice', detail: `Give one of: ${known.join(', ')}.` }],
      extra: { known },
    });
  }
  if (answer.type === 'proposals') throw new Problem('unknown-answer', 'Nothing is proposed at this step.');
  const known = listNoteRows().map(({ fingering }) => fingering);
  if (kind === 'notes' && known.includes(answer.fingering)) return;
  throw new Problem('unknown-note', 'This step does not ask for that note.', { extra: { known } });
}

function toStep(id: string, entries: readonly Entry[]): StepView {
  const step = findStep(id);
  const notes = step.kind === 'notes' ? listNoteRows() : [];
  for (const { answer } of entries) {
    if (answer.type !== 'note') continue;
    const row = notes.find(({ fingering }) => fingering === answer.fingering);
    if (row !== undefined) Object.assign(row, { answered: answer.answered, sounded: answer.sounded ?? null });
  }
  return {
    ...step,
    notes,
    proposals: [],
    reading: null,
    outcome: step.kind === 'outcome' ? readOutcome() : null,
  };
}

function sayAnswer({ step, answer }: Entry): string {
  if (answer.type === 'note') return answer.answered;
  if (answer.type === 'proposals') return answer.ticked.join(', ');
  return findStep(step).choices.find(({ id }) => id === answer.choice)?.label ?? answer.choice;
}

function sayQuestion({ step, answer }: Entry): string {
  if (answer.type !== 'note') return findStep(step).title;
  return `How does ${listNoteRows().find(({ fingering }) => fingering === answer.fingering)?.name} answer?`;
}

function toView(run: PaperRun): RunView {
  const step = toStep(currentStep(run.entries), run.entries);
  return {
    id: run.id,
    revision: run.revision,
    instrument: { id: 'alto-saxophone', name: 'Alto saxophone', nextRegister: 2 },
    person: run.opening.person,
    complaint: run.opening.complaint ?? null,
    openedAt: '2026-01-05T10:00:00.000Z',
    edition: 'paper',
    closed: step.kind === 'outcome',
    conversation: run.entries.map((entry) => ({
      entry: entry.entry,
      asked: sayQuestion(entry),
      answered: sayAnswer(entry),
      canChange: true,
    })),
    progress: {
      ruledOut: 'Ruled out so far: 3 of 40 parts.',
      ahead: 'About 4 more checks',
      checks: { from: 4, to: 4 },
      hasRisen: false,
    },
    step,
    example: null,
  };
}
