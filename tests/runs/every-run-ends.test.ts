/**
 * Every run comes to an end within a stated number of answers, whatever is wrong and whoever answers: somebody who says
 * "done" to everything and mends nothing, somebody who mends what is found, somebody who answers anything.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import { notesToPlay, Person, Tool } from '../../src/diagnosis/index.ts';
import { openStaves } from '../../src/engraving/index.ts';
import { type PlacedFault, severitiesOf } from '../../src/mechanism/index.ts';
import { advance } from '../../src/runs/advance.ts';
import { beliefOf, openRun, type RunBook } from '../../src/runs/book.ts';
import { answerLabels } from '../../src/runs/labels.ts';
import type { RunState } from '../../src/runs/run-state.ts';
import type { AnswerBody } from '../../src/runs/schema.ts';
import { makeFaulty } from '../support/patient.ts';
import { flowsFolder } from '../support/runs-bench.ts';

/**
 * Every played note and every tap is an answer. A play test has up to 44 notes, and so may each of three retests; the longest
 * of 600 such runs took 159 answers.
 */
const MOST_ANSWERS = 250;

const content = loadContent(flowsFolder);
const staves = openStaves();
const instruments = [...content.instruments.keys()];

type Manner = 'says-done' | 'mends' | 'anything';
type Story = {
  readonly instrument: string;
  readonly person: Person;
  readonly manner: Manner;
  readonly faults: readonly number[];
  readonly numbers: readonly number[];
};

/** Answers until the outcome, or until there have been too many answers. */
function walk({ instrument, person, manner, faults, numbers }: Story): { state: RunState } {
  const book = openRun(content, instrument, person, staves);
  let placed = faults.map((number): PlacedFault => {
    const fault = book.instrument.faults[number % book.instrument.faults.length]!;
    return { fault, severity: severitiesOf(fault)[number % severitiesOf(fault).length]! };
  });
  let state = book.begin({ instrument, person, tools: Tool.options });
  for (let answers = 0; ; answers += 1) {
    const { kind } = content.flow.step(state.flow);
    if (kind === 'outcome' || answers > MOST_ANSWERS) return { state };
    const repairs = state.flow.context.repairs.length;
    const drawn = manner === 'anything' ? numbers[answers % numbers.length]! : null;
    state = advance(book, state, answerTo(book, state, placed, drawn));
    const repair = state.flow.context.repairs.at(repairs);
    if (manner === 'mends' && repair !== undefined)
      placed = placed.filter(({ fault }) => fault.id !== repair.fault);
  }
}

function answerTo(
  book: RunBook,
  state: RunState,
  placed: readonly PlacedFault[],
  drawn: number | null,
): AnswerBody {
  const step = content.flow.step(state.flow);
  const fingering = step.kind === 'notes' ? nextNote(book, state, step.group === 'retest') : undefined;
  if (fingering !== undefined) return playNote(book, fingering, placed, drawn);
  if (step.kind === 'check' && state.focus.check !== null) {
    const labels = answerLabels(step, book.model.check(state.focus.check));
    if (drawn !== null) return { type: 'choice', choice: labels[drawn % labels.length]!.id };
    return {
      type: 'choice',
      choice: makeFaulty(book.model, placed, book.person).answerCheck(state.focus.check),
    };
  }
  const ways = step.choices.filter(({ id }) => id !== 'stop' || step.choices.length === 1);
  const said =
    drawn !== null
      ? ways[drawn % ways.length]!
      : (ways.find(({ id }) => id === 'yes' || id === 'done') ??
        ways.find(({ tone }) => tone === 'plain') ??
        ways[0]!);
  return { type: 'choice', choice: said.id };
}

function nextNote(book: RunBook, state: RunState, isRetest: boolean): string | undefined {
  const wanted = isRetest
    ? state.retest
    : notesToPlay(book.model, beliefOf(book, state), state.findings, book.person).first.map(({ id }) => id);
  return wanted.find(
    (id) => !state.findings.some((finding) => 'note' in finding && finding.fingering === id),
  );
}

const manners = ['speaks', 'unsteady', 'silent', 'could-not-tell'] as const;

function playNote(
  book: RunBook,
  id: string,
  placed: readonly PlacedFault[],
  drawn: number | null,
): AnswerBody {
  const of = { type: 'note', fingering: id } as const;
  if (drawn !== null) return { ...of, answered: manners[drawn % manners.length]! };
  return makeFaulty(book.model, placed, book.person).playNote(id);
}

const story: fc.Arbitrary<Story> = fc.record({
  instrument: fc.constantFrom(...instruments),
  person: fc.constantFrom(...Person.options),
  manner: fc.constantFrom<Manner>('says-done', 'mends', 'anything'),
  faults: fc.array(fc.nat(9999), { maxLength: 2 }),
  numbers: fc.array(fc.nat(9999), { minLength: 40, maxLength: 80 }),
});

describe('every run', () => {
  test('ends within the stated number of answers, whatever is wrong and whoever answers', {
    timeout: 300_000,
  }, () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(story, (told) => {
        const { state } = walk(told);
        for (const { exit } of state.flow.context.repairs) seen.add(`${told.manner} ${exit}`);
        expect(content.flow.step(state.flow).kind).toBe('outcome');
      }),
      { numRuns: 100, seed: 2026 },
    );
    // Runs in which nothing is carried out would prove little.
    expect([...seen]).toEqual(expect.arrayContaining(['says-done done', 'mends done']));
  });
});
