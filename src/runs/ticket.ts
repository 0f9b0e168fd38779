/** The bench ticket: everything that the bench needs to know, on one sheet. */
import { describeSuspect, type Suspect, sayChance, suspects } from '../diagnosis/index.ts';
import type { FlowOutcome } from '../flow/index.ts';
import { beliefOf, type RunBook } from './book.ts';
import { isCheck, isNote } from './findings.ts';
import { noteAnswerLabel } from './labels.ts';
import { fingeringName, playersName } from './note-names.ts';
import { proofOf } from './proof.ts';
import type { RunFacts } from './run-facts.ts';
import type { RunState } from './run-state.ts';
import type { OutcomeView } from './view.ts';

type Ticket = NonNullable<OutcomeView['ticket']>;

/** How many suspects a ticket names, and from which share on; figures of ours. */
const namedSuspects = 4;
const namedFrom = 0.03;

/** Writes the ticket of a run that has ended. */
export function writeTicket(
  book: RunBook,
  state: RunState,
  { facts, outcome, done }: { facts: RunFacts; outcome: FlowOutcome; done: readonly string[] },
): Ticket {
  const leads = suspectsNamed(book, state);
  const named = state.focus.fault ?? null;
  return {
    number: facts.id.toUpperCase(),
    opened: facts.openedAt,
    instrument: book.instrument.name,
    person: { director: 'band director', helper: 'student helper', desk: 'shop desk' }[book.person],
    complaint: state.complaint ?? '',
    confirmed: [...state.confirmed],
    owner: ownerWords(state),
    findings: checksTold(book, state),
    notes: notesTold(book, state),
    suspects: leads.map(({ fault, title, present }) => ({
      title,
      chance: sayChance(present),
      confirm: proofOf(book, fault)?.title ?? '',
    })),
    adjustments: [...done],
    job: jobOf(book, outcome, named),
    urgency: urgencyOf(book, outcome.urgency),
    tellTheBench: leads.slice(0, 2).map(({ fault }) => describeSuspect(book.model, fault).tellTheBench),
  };
}

/**
 * The suspects that the ticket of a run names, the likeliest first. Whoever reads it has the instrument on the bench because
 * something may be wrong; so what counts is how likely each is if anything is. What was mended stands under what was done, and
 * here only where it leads again.
 */
export function suspectsNamed(book: RunBook, state: RunState): Suspect[] {
  const { faults, healthy } = suspects(book.model, beliefOf(book, state));
  const mended = new Set(state.past.map(({ fault }) => fault));
  return faults
    .filter(({ fault, probability }) => probability > healthy || !mended.has(fault))
    .filter(({ present }) => present >= namedFrom * (1 - healthy))
    .slice(0, namedSuspects);
}

/** Every check with what was seen; where a treatment lies between two answers that differ, both. */
function checksTold(book: RunBook, state: RunState): Ticket['findings'] {
  const told = new Map<string, string[]>();
  for (const { check, saw } of [...state.past.flatMap(({ findings }) => findings), ...state.findings].filter(
    isCheck,
  )) {
    const seen = book.model.check(check).answers.find(({ id }) => id === saw)?.label ?? 'could not tell';
    addLast(told, check, seen);
  }
  return [...told].map(([check, seen]) => ({
    what: book.model.check(check).title,
    seen: seen.join(', then: '),
  }));
}

/** Adds what was said of a subject last, unless it was the same as before. */
function addLast(told: Map<string, string[]>, subject: string, words: string): void {
  const before = told.get(subject) ?? [];
  if (before.at(-1) !== words) told.set(subject, [...before, words]);
}

/** Every note with how it answered; where a treatment lies between two answers, both. */
function notesTold(book: RunBook, state: RunState): Ticket['notes'] {
  const told = new Map<string, string[]>();
  for (const findings of [...state.past.map((treatment) => treatment.findings), state.findings]) {
    for (const { note, fingering, answered, sounded } of findings.filter(isNote)) {
      const words =
        sounded === undefined ? noteAnswerLabel(answered) : `${noteAnswerLabel(answered)}: ${sounded}`;
      const key = fingering ?? note;
      addLast(told, key, words);
    }
  }
  const { instrument } = book;
  return [...told].map(([key, answers]) => {
    const fingering = instrument.fingerings.find(({ id }) => id === key);
    return {
      note: fingering?.note ?? key,
      name: fingering === undefined ? playersName(instrument, key) : fingeringName(instrument, fingering),
      answered: answers.join(', then '),
    };
  });
}

function ownerWords(state: RunState): string {
  const { words, flags } = state.flow.context;
  const whose = words.owner === undefined || words.owner === 'unknown' ? 'owner not known' : words.owner;
  return flags.ownerAllows === true
    ? `${whose}; adjusting allowed`
    : `${whose}; nothing may be adjusted without the owner’s word`;
}

function jobOf({ content, model }: RunBook, outcome: FlowOutcome, fault: string | null): Ticket['job'] {
  const wanted =
    outcome.job !== 'of-the-fault'
      ? outcome.job
      : fault === null
        ? 'look-and-advise'
        : describeSuspect(model, fault).job;
  const job = content.flow.charts.jobs.jobs.find(({ id }) => id === wanted);
  if (job === undefined) throw new RangeError(`no class of work "${wanted}" in jobs.yaml`);
  return { name: job.name, includes: job.includes, hours: hoursWords(job.hours), basis: job.basis };
}

function hoursWords({ from, to }: { from: number; to: number }): string {
  const span = (hours: number): string =>
    hours < 1 ? `${Math.round(hours * 60)} minutes` : `${hours} ${hours === 1 ? 'hour' : 'hours'}`;
  return `${span(from)} to ${span(to)}`;
}

function urgencyOf({ content }: RunBook, level: string): Ticket['urgency'] {
  const urgency = content.flow.charts.jobs.urgencies.find(({ id }) => id === level);
  if (urgency === undefined) throw new RangeError(`no urgency "${level}" in jobs.yaml`);
  return { level: urgency.name, meaning: urgency.action };
}
