/** The current step as a page shows it. */
import { notesToPlay } from '../diagnosis/index.ts';
import { findTradeWords, tradeWordsOf } from '../flow/index.ts';
import type { Fingering } from '../mechanism/index.ts';
import { fingeringWords } from '../picture/index.ts';
import { stepKey } from './advance.ts';
import { beliefOf, cautionsAt, type RunBook } from './book.ts';
import { answerFor } from './findings.ts';
import { answerLabels, noteAnswerWords } from './labels.ts';
import { fingeringName } from './note-names.ts';
import { concludeRun } from './outcome-view.ts';
import { pictureFor, pictureOfFingering } from './pictures.ts';
import { viewReading } from './reading-view.ts';
import type { RunFacts } from './run-facts.ts';
import type { RunState } from './run-state.ts';
import type { NoteRowView, StepView, WrittenNoteView } from './view.ts';
import { viewWavering } from './wavering.ts';
import { stepInWords } from './words.ts';
import { viewWrittenNote } from './written-note.ts';

/**
 * The step that a run stands at.
 *
 * @param facts what the outcome page and the ticket say about the run as a whole
 */
export function viewStep(book: RunBook, state: RunState, facts: RunFacts): StepView {
  const { step, fill } = stepInWords(book, state);
  const check =
    step.kind === 'check' && state.focus.check !== null ? book.model.check(state.focus.check) : null;
  const shown = new Set(state.cautioned);
  const cautions = cautionsAt(book, step);
  const choices = answerLabels(step, check).map((choice) => ({ ...choice, label: fill(choice.label) }));
  const texts = {
    title: fill(check?.title ?? step.title),
    ask: fill(check?.ask ?? step.ask),
    why: fill(check?.why ?? step.why),
    plainly: check === null ? fill(step.plainly) : (check.plainly ?? ''),
  };
  const words = findTradeWords(tradeWordsOf(book.content.words, book.instrument.family), [
    ...Object.values(texts),
    ...choices.map(({ label }) => label),
    ...(step.kind === 'notes' ? noteAnswerWords : []),
  ]);
  return {
    id: stepKey(state, step),
    kind: step.kind === 'weigh' ? 'instruction' : step.kind,
    ...texts,
    terms: words.map(({ word, means }) => ({ word, means })),
    cautions: cautions.filter(({ id }) => !shown.has(id)).map(({ text }) => fill(text)),
    reminders: cautions
      .filter(({ id }) => shown.has(id))
      .map(({ text, brief }) => ({ text: fill(text), brief: fill(brief) })),
    picture: pictureFor(book, state, step),
    written: check?.plays === undefined ? null : writtenNote(book, book.instrument.fingering(check.plays)),
    wavering: viewWavering(book, state, step),
    choices,
    // Nothing is ticked beforehand: a tick that nobody has made would count as something that somebody has confirmed.
    proposals:
      step.kind === 'proposals'
        ? state.proposals.map(({ id, says, isLikely }) => ({ id, says, isLikely, isTicked: false }))
        : [],
    notes: step.kind === 'notes' ? noteRows(book, state, step.group === 'retest') : [],
    reading: viewReading(book, state, step),
    outcome: step.kind === 'outcome' ? concludeRun(book, state, facts) : null,
  };
}

function noteRows(book: RunBook, state: RunState, isRetest: boolean): NoteRowView[] {
  const { instrument } = book;
  if (isRetest) return state.retest.map((id) => noteRow(book, state, instrument.fingering(id), 'first'));
  const { first, then } = notesToPlay(book.model, beliefOf(book, state), state.findings, book.person);
  return [
    ...first.map((fingering) => noteRow(book, state, fingering, 'first')),
    ...then.map((fingering) => noteRow(book, state, fingering, 'then')),
  ];
}

function writtenNote(book: RunBook, fingering: Fingering): WrittenNoteView {
  return viewWrittenNote(book, fingering.note, fingeringName(book.instrument, fingering));
}

function noteRow(
  book: RunBook,
  state: RunState,
  fingering: Fingering,
  group: NoteRowView['group'],
): NoteRowView {
  const { instrument } = book;
  const finding = answerFor(state.findings, fingering.id);
  return {
    fingering: fingering.id,
    ...writtenNote(book, fingering),
    words: fingeringWords(instrument, fingering),
    picture: pictureOfFingering(book, fingering, 'note'),
    answered: finding?.answered ?? null,
    sounded: finding?.sounded ?? null,
    group,
  };
}
