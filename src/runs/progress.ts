/** How far along a run is, in honest words: what is ruled out, counted, and about how many checks are still to come. */
import { LRUCache } from 'lru-cache';
import {
  type AheadQuestion,
  type ChecksAhead,
  checksAhead,
  type DiagnosisModel,
  playTest,
  suspects,
} from '../diagnosis/index.ts';
import type { PartSort } from '../mechanism/index.ts';
import { beliefOf, type RunBook, situationOf, treatedFaults } from './book.ts';
import { isNote } from './findings.ts';
import { rankingCacheOf } from './ranking-cache.ts';
import { evidenceOf, type RunState } from './run-state.ts';
import type { RunView } from './view.ts';

/** A suspect below this share is no longer counted as open; a figure of ours. */
const ruledOutBelow = 0.01;

/** Outlooks kept for other runs, and other views, with the same findings. */
const keptOutlooks = 1000;
const outlooks = new WeakMap<DiagnosisModel, LRUCache<string, ChecksAhead>>();

/**
 * The progress of a run.
 *
 * @param before the state before the last answer, or null when there is nothing to compare with
 */
export function tellProgress(book: RunBook, state: RunState, before: RunState | null): RunView['progress'] {
  const checks = outlookOf(book, state);
  const earlier = before === null ? null : outlookOf(book, before);
  const hasRisen = checks !== null && earlier !== null && checks.from + checks.to > earlier.from + earlier.to;
  return {
    ruledOut: sayRuledOut(book, state),
    ahead: sayAhead(book, state, checks, hasRisen),
    checks,
    hasRisen,
  };
}

const partNames: Readonly<Partial<Record<PartSort, string>>> = {
  cause: 'set-up and player',
  vent: 'pads and cups',
  key: 'keys and links',
  link: 'keys and links',
};

/** What is as good as ruled out, counted by what it is about. */
function sayRuledOut(book: RunBook, state: RunState): string {
  const { faults } = book.model.hypotheses;
  if (evidenceOf(state).length === 0)
    return `${faults.length} things can be wrong on this instrument. None is ruled out yet.`;
  const open = new Set(
    suspects(book.model, beliefOf(book, state))
      .faults.filter(({ present }) => present >= ruledOutBelow)
      .map(({ fault }) => fault),
  );
  const groups = Map.groupBy(
    faults,
    ({ place }) => partNames[book.instrument.part(place).sort] ?? 'joints and tube',
  );
  const counted = [...groups].map(
    ([name, all]) => `${name} ${all.filter(({ id }) => !open.has(id)).length} of ${all.length}`,
  );
  return `${faults.length - open.size} of ${faults.length} things that can be wrong are as good as ruled out: ${counted.join(', ')}.`;
}

function sayAhead(book: RunBook, state: RunState, checks: ChecksAhead | null, hasRisen: boolean): string {
  const step = book.content.flow.step(state.flow);
  if (step.kind === 'notes' && step.group === 'retest') return 'These notes show whether it is mended.';
  if (checks === null)
    return isInProcedure(state) ? 'What to do is known. When it is done, it is tried once more.' : '';
  const isPlaying = step.kind === 'notes';
  const notes = isPlayTestDue(book, state) ? playTest(book.model, book.person).first.length : 0;
  const sentence = isPlaying
    ? `After these notes ${sayChecks(checks)}.`
    : notes > 0
      ? `Still to come: ${notes} notes to play, and ${sayChecks(checks)}.`
      : `Still to come, this one counted: ${sayChecks(checks)}.`;
  return hasRisen ? `${sentence} That is more than it looked before the last answer.` : sentence;
}

/** Beyond this a figure only pretends to be one. */
const most = 10;

function sayChecks({ from, to }: ChecksAhead): string {
  const word = to === 1 ? 'check' : 'checks';
  if (to === 0) return 'perhaps no check at all';
  if (to > most)
    return from === 0
      ? 'perhaps many checks'
      : `at least ${from} ${from === 1 ? 'check' : 'checks'}, and perhaps many more`;
  if (from === to) return `about ${to} ${word}`;
  return from === 0 ? `up to about ${to} ${word}` : `about ${from} to ${to} ${word}`;
}

/** Procedures are charts within the chart. */
const isInProcedure = ({ flow }: RunState): boolean => flow.at.includes('.');

const isPlayTestDue = (book: RunBook, { flow }: RunState): boolean =>
  book.content.flow.situation(flow).isPlayTestDue;

/** What is still to be asked before it is known what to do; null where that is known, or is not what comes next. */
function outlookOf(book: RunBook, state: RunState): ChecksAhead | null {
  const step = book.content.flow.step(state.flow);
  const isDue = isPlayTestDue(book, state);
  const isPlaying = step.kind === 'notes' && step.group === 'play-test';
  const isWaiting = isDue && (step.kind === 'question' || step.kind === 'instruction');
  const isTreating = isInProcedure(state) || state.flow.context.procedure !== null;
  if (step.kind !== 'check' && !isPlaying && (!isWaiting || isTreating)) return null;
  const notes = { notes: playTest(book.model, book.person).first.map(({ id }) => id) };
  // While notes are being played the outlook stays what it was: they are simulated whole.
  const known = isDue ? { ...state, findings: state.findings.filter((finding) => !isNote(finding)) } : state;
  return remembered(book, known, isPlaying ? [notes, 'any'] : isDue ? ['set-up', notes, 'any'] : ['any']);
}

function remembered(book: RunBook, state: RunState, stages: AheadQuestion['stages']): ChecksAhead {
  const { model } = book;
  const cache = outlooks.get(model) ?? new LRUCache<string, ChecksAhead>({ max: keptOutlooks });
  outlooks.set(model, cache);
  const { findings } = state;
  const question = { findings, situation: situationOf(book, state), treated: treatedFaults(state), stages };
  const key = JSON.stringify([evidenceOf(state), question]);
  const found =
    cache.get(key) ??
    checksAhead(model, { ...question, belief: beliefOf(book, state), cache: rankingCacheOf(model) });
  cache.set(key, found);
  return found;
}
