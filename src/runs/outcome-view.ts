/** How a run ended, as the outcome page shows it. */
import { explain, suspects } from '../diagnosis/index.ts';
import { type Repair, turnsInWords } from '../flow/index.ts';
import { alternateFingerings, type Instrument, type PlacedFault } from '../mechanism/index.ts';
import { fingeringWords } from '../picture/index.ts';
import { beliefOf, type RunBook } from './book.ts';
import { failedNotes } from './findings.ts';
import { playersName } from './note-names.ts';
import { pictureOfFingering } from './pictures.ts';
import type { RunFacts } from './run-facts.ts';
import type { RunState } from './run-state.ts';
import { writeTicket } from './ticket.ts';
import type { OutcomeView } from './view.ts';
import { caseOf } from './why-case.ts';
import { fillWords, stepInWords } from './words.ts';
import { viewWrittenNote } from './written-note.ts';

/** Suspects below this share are no reason to advise another fingering; a figure of ours. */
const workaroundFrom = 0.3;

/**
 * The outcome of a run that has ended.
 *
 * @throws RangeError if the run stands at a step that is no outcome
 */
export function concludeRun(book: RunBook, state: RunState, facts: RunFacts): OutcomeView {
  const {
    step: { outcome },
    fill,
  } = stepInWords(book, state);
  if (outcome === undefined) throw new RangeError(`the run stands at ${state.flow.at}, which is no outcome`);
  const done = doneOf(book, state);
  return {
    id: outcome.id,
    title: fill(outcome.title),
    lead: fill(outcome.lead),
    explanation: explanationOf(book, state),
    done,
    recheck: outcome.recheck.map(fill),
    untilMended: outcome.untilMended.map(fill),
    alternates: outcome.ticket ? alternatesOf(book, state) : [],
    cautions: outcome.cautions.map(fill),
    escalation: fill(outcome.escalation),
    ticket: outcome.ticket ? writeTicket(book, state, { facts, outcome, done }) : null,
  };
}

/** Why it is thought to be so: from what is there now, or, once nothing is wrong any more, from what was there before it was mended. */
function explanationOf(book: RunBook, state: RunState): string[] {
  const { belief, findings } = caseOf(book, state);
  return [...explain(book.model, belief, findings).sentences];
}

/** What was done to the instrument, one sentence a procedure; what was done more than once is told once, with how often. */
export function doneOf(book: RunBook, state: RunState): string[] {
  const done = state.flow.context.repairs.map((repair) => sayRepair(book, repair));
  return [...Map.groupBy(done, (told) => told)].map(([told, times]) =>
    times.length === 1 ? told : `${told} Done ${timesInWords(times.length)}.`,
  );
}

function sayRepair(book: RunBook, repair: Repair): string {
  const chart = book.content.flow.charts.procedures.find(({ procedure }) => procedure === repair.procedure);
  const { name } = book.instrument.part(book.instrument.fault(repair.fault).place);
  const words = { ...book.family?.words, place: name };
  const title = fillWords(chart?.title ?? repair.procedure, words);
  if (repair.leaves === 'as-found' && repair.exit !== 'unchanged')
    return `Not carried out: ${lowerFirst(title)}. Nothing was changed.`;
  const what = chart?.done === undefined ? `${title}: ${name}.` : fillWords(chart.done, words);
  if (repair.leaves === 'as-found') return `${what} It did not help, and everything was put back as it was.`;
  if (repair.turned === 0 || repair.direction === null) return what;
  const turned = `${turnsInWords(repair.turned)} ${repair.direction === 'in' ? 'clockwise' : 'anticlockwise'}`;
  return repair.leaves === 'counted'
    ? `${what} Left standing ${turned} from where it was.`
    : `${what} Turned ${turned}.`;
}

const timesInWords = (count: number): string =>
  count === 2 ? 'twice' : count === 3 ? 'three times' : `${count} times`;

const lowerFirst = (title: string): string => title.charAt(0).toLowerCase() + title.slice(1);

/** Other fingerings on which the failing notes speak although the likeliest fault is there. */
function alternatesOf(book: RunBook, state: RunState): OutcomeView['alternates'] {
  const { instrument, model } = book;
  const lead = suspects(model, beliefOf(book, state)).faults[0];
  if (lead === undefined || lead.present < workaroundFrom) return [];
  const faults: PlacedFault[] = [{ fault: instrument.fault(lead.fault), severity: 'moderate' }];
  const notes = [...new Set(failedNotes(state.findings).map(({ note }) => note))];
  return notes.flatMap((note) =>
    alternatesFor(instrument, note, faults).map((fingering) => ({
      ...viewWrittenNote(book, note, playersName(instrument, note)),
      words: fingeringWords(instrument, fingering),
      picture: pictureOfFingering(book, fingering, 'alternate'),
    })),
  );
}

function alternatesFor(instrument: Instrument, note: string, faults: PlacedFault[]) {
  return alternateFingerings(instrument, note, faults)
    .filter(({ kind }) => kind === 'alternate')
    .slice(0, 2);
}
