/** The product itself: the real charts and the real diagnosis, walked to the end as a run is. */
import type { Content } from '../../../../src/content/index.ts';
import { isProved, notesToPlay, treatmentOf } from '../../../../src/diagnosis/index.ts';
import { openStaves } from '../../../../src/engraving/index.ts';
import type { FlowOutcome } from '../../../../src/flow/index.ts';
import { advance } from '../../../../src/runs/advance.ts';
import { beliefOf, openRun, type RunBook, situationOf } from '../../../../src/runs/book.ts';
import type { RunState } from '../../../../src/runs/run-state.ts';
import type { AnswerBody } from '../../../../src/runs/schema.ts';
import { suspectsNamed } from '../../../../src/runs/ticket.ts';
import { guessOf } from '../measures/guess.ts';
import type { Decision, Offer, Result } from '../measures/result.ts';
import type { Case } from '../simulator/case.ts';
import { workOn } from '../simulator/hands.ts';
import { answerCheck } from '../simulator/inspector.ts';
import { layOut, type Patient } from '../simulator/patient.ts';
import { answerPage } from '../simulator/person.ts';
import { playNote } from '../simulator/player.ts';
import { type Meter, startMeter } from './effort.ts';

const MOST_STEPS = 400;
/** Nobody looks at the pages, so no note is ever engraved. */
const staves = openStaves();

export type Walk = Pick<
  Result,
  'engine' | 'outcome' | 'end' | 'offers' | 'strayTurns' | 'isStrayTold' | 'left' | 'named'
>;

type Walking = {
  readonly the: Case;
  readonly book: RunBook;
  readonly patient: Patient;
  readonly meter: Meter;
};

/**
 * Walks a run from its first page to its outcome, the simulated person answering every page.
 * @param watch is shown every state that the run stands at, the first to the last
 * @throws Error when it has not ended after 400 steps.
 */
export function walkCharts(
  content: Content,
  instrument: string,
  the: Case,
  watch: (book: RunBook, state: RunState) => void = () => undefined,
): Walk {
  const { situation } = the;
  const book = openRun(content, instrument, situation.person, staves);
  const walking: Walking = { the, book, patient: layOut(the), meter: startMeter(book.model, situation) };
  let state = book.begin({ instrument, person: situation.person, tools: situation.tools });
  let decision: Decision | null = null;
  const offers: Offer[] = [];
  for (let count = 0; count < MOST_STEPS; count += 1) {
    watch(book, state);
    const step = content.flow.step(state.flow);
    if (step.id === 'before-treat') offers.push(...offerAt(walking, state));
    decision ??= decisionAt(walking, state, step.id, step.kind);
    if (step.kind === 'outcome')
      return {
        engine: decision!,
        outcome: step.outcome!.id,
        end: endOf(step.outcome!),
        offers: offers,
        strayTurns: walking.patient.strayTurns(),
        isStrayTold: state.flow.context.repairs.some(({ leaves }) => leaves === 'counted'),
        left: walking.patient.faults().map(({ fault }) => fault.id),
        named: step.outcome!.ticket ? suspectsNamed(book, state).map(({ fault }) => fault) : [],
      };
    state =
      step.kind === 'notes' ? playAll(walking, state, step.group === 'retest') : answerStep(walking, state);
  }
  throw new Error(`seed ${the.seed} has not ended after ${MOST_STEPS} steps, at ${state.flow.at}`);
}

/** An outcome that waits for no bench and no cleaning says that it plays. */
function endOf({ ticket, urgency }: FlowOutcome): Result['end'] {
  return ticket ? 'ticket' : urgency === 'safety' ? 'set-aside' : 'plays';
}

function answerStep(walking: Walking, state: RunState): RunState {
  const { the, book, patient, meter } = walking;
  const step = book.content.flow.step(state.flow);
  let choice: string;
  if (step.kind === 'check' && state.focus.check !== null) {
    const check = book.model.check(state.focus.check);
    meter.add(check);
    choice =
      check.kind === 'play'
        ? playNote(the, book.instrument.fingering(check.place), patient.faults()).answered
        : answerCheck(the, book.model, check.id, patient.faults());
  } else if (step.id.includes('.')) {
    choice = workOn(the, patient, book.content, state, step);
  } else {
    choice = answerPage(the, patient, step, state.focus.fault);
  }
  return advance(book, state, { type: 'choice', choice });
}

/** Plays the notes of the page, those that it adds included, then says that this is all. */
function playAll({ the, book, patient, meter }: Walking, state: RunState, isRetest: boolean): RunState {
  const heard = new Set<string>();
  let played = state;
  for (;;) {
    const id = notesOf(book, played, isRetest).find((fingering) => !heard.has(fingering));
    if (id === undefined) break;
    heard.add(id);
    const { answered, sounded } = playNote(the, book.instrument.fingering(id), patient.faults());
    const answer: AnswerBody = {
      type: 'note',
      fingering: id,
      answered,
      ...(sounded === undefined ? {} : { sounded }),
    };
    played = advance(book, played, answer);
  }
  meter.addNotes(heard.size);
  return advance(book, played, { type: 'choice', choice: 'done' });
}

function notesOf(book: RunBook, state: RunState, isRetest: boolean): readonly string[] {
  if (isRetest) return state.retest;
  const { first } = notesToPlay(book.model, beliefOf(book, state), state.findings, book.person);
  return first.map(({ id }) => id);
}

/** The decision, once the run has left the checks and the notes for good; null before. */
function decisionAt(
  { the, book, meter }: Walking,
  state: RunState,
  step: string,
  kind: string,
): Decision | null {
  const seen = state.findings.length > 0 || step === 'before-treat' || kind === 'outcome';
  if (!seen || kind === 'check' || kind === 'notes') return null;
  const decided =
    step === 'before-treat'
      ? 'treat'
      : step === 'nothing-found'
        ? 'well'
        : step === 'bench-now'
          ? 'danger'
          : step.startsWith('stop')
            ? 'stopped'
            : 'bench';
  return {
    kind: decided,
    guess: guessOf(book.model, beliefOf(book, state), the),
    effort: meter.read(),
  };
}

/** The adjusting step that a page offers; none when what it offers adjusts nothing. */
function offerAt({ book, patient }: Walking, state: RunState): Offer[] {
  const fault = state.focus.fault;
  const number = fault === null ? undefined : book.model.hypotheses.faultNumber.get(fault);
  if (fault === null || number === undefined || treatmentOf(book.model, number)?.adjusts !== true) return [];
  return [
    {
      fault,
      isAtFault: patient.has(fault),
      isProved: isProved(book.model, number, state.findings, situationOf(book, state)),
    },
  ];
}
