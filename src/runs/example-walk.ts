/** An example run as its story tells it, answered step by step by the rules of every other run. */
import { setImmediate as nextTurn } from 'node:timers/promises';
import { COULD_NOT_TELL, notesToPlay } from '../diagnosis/index.ts';
import type { FlowStep } from '../flow/index.ts';
import { noteName, predictNote } from '../mechanism/index.ts';
import { advance, describeTurn, stepKey } from './advance.ts';
import { beliefOf, type RunBook } from './book.ts';
import type { ExampleStory } from './example-story.ts';
import { answerFor } from './findings.ts';
import type { RunState, Turn } from './run-state.ts';
import type { AnswerBody } from './schema.ts';

/** All states of the run, the opening one first, and the answer that led from each to the next. */
export type ExampleWalk = { readonly states: readonly RunState[]; readonly turns: readonly Turn[] };

/** Where a story has not come to its end by then, it never will. */
const mostTurns = 200;

/**
 * Walks a story to its outcome; other requests are answered in between.
 *
 * @throws Error if it comes to no outcome, or gives an answer that its step does not take
 */
export async function walkExample(book: RunBook, story: ExampleStory): Promise<ExampleWalk> {
  const states = [book.begin(story.opening)];
  const turns: Turn[] = [];
  const visits = new Map<string, number>();
  for (;;) {
    const state = states.at(-1)!;
    const step = book.content.flow.step(state.flow);
    if (step.kind === 'outcome') return { states, turns };
    if (turns.length === mostTurns) throw new Error('The example run comes to no outcome.');
    const answer = answerOf(book, story, state, step, visits);
    turns.push(describeTurn(book, state, answer));
    states.push({ ...advance(book, state, answer), head: turns.length });
    await nextTurn();
  }
}

function answerOf(
  book: RunBook,
  story: ExampleStory,
  state: RunState,
  step: FlowStep,
  visits: Map<string, number>,
): AnswerBody {
  if (step.kind === 'proposals') {
    const meant = state.proposals.filter(({ isLikely }) => isLikely);
    return { type: 'proposals', ticked: meant.map(({ id }) => id) };
  }
  const waiting =
    step.kind === 'notes' ? notesOf(book, state, step).find((id) => isWaiting(state, id)) : undefined;
  if (waiting !== undefined) return playNote(book, story, state, waiting);
  const visit = visits.get(step.id) ?? 0;
  visits.set(step.id, visit + 1);
  const check = step.kind === 'check' ? state.focus.check : null;
  const choice =
    check === null
      ? (story.choices[step.id]?.[visit] ?? step.choices.find(({ tone }) => tone === 'plain')?.id)
      : answerCheck(book, story, check);
  if (choice === undefined) throw new Error(`The example run finds no answer at ${stepKey(state, step)}.`);
  return { type: 'choice', choice };
}

function notesOf(book: RunBook, state: RunState, { group }: FlowStep): readonly string[] {
  if (group === 'retest') return state.retest;
  const { first } = notesToPlay(book.model, beliefOf(book, state), state.findings, book.person);
  return first.map(({ id }) => id);
}

function isWaiting({ findings }: RunState, fingering: string): boolean {
  return answerFor(findings, fingering) === null;
}

function playNote({ instrument }: RunBook, story: ExampleStory, { past }: RunState, id: string): AnswerBody {
  const faults = past.length > 0 ? [] : [{ fault: instrument.fault(story.fault), severity: story.severity }];
  const { degree, sounded } = predictNote(instrument, instrument.fingering(id), faults);
  const note = { type: 'note', fingering: id } as const;
  if (sounded !== null) return { ...note, answered: 'wrong', sounded: noteName(sounded) };
  return { ...note, answered: degree === 'none' ? 'speaks' : degree === 'severe' ? 'silent' : 'unsteady' };
}

/** What the story says, or what a good instrument shows; a note among the checks speaks. */
function answerCheck({ model }: RunBook, story: ExampleStory, id: string): string {
  const { kind } = model.check(id);
  const known = model.knowledge.checks.kinds.find((entry) => entry.id === kind);
  const quiet = kind === 'play' ? 'speaks' : known?.answers.find(({ isQuiet }) => isQuiet)?.id;
  return story.checks[id] ?? quiet ?? COULD_NOT_TELL;
}
