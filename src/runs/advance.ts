/** One answer taken in: into the findings, through the charts, and on past every place where the diagnosis decides. */
import {
  decide,
  type Finding,
  provedBy,
  retestNotes,
  sayNote,
  staleAfter,
  type Verdict,
} from '../diagnosis/index.ts';
import type { FlowEvent, FlowState, FlowStep } from '../flow/index.ts';
import { parseNote } from '../mechanism/index.ts';
import { Problem } from '../problems.ts';
import { beliefOf, cautionsAt, type RunBook, situationOf, takeForGranted, treatedFaults } from './book.ts';
import { failedNotes, isNote, subjectOf, withFinding } from './findings.ts';
import { answerLabels, noteAnswerLabel } from './labels.ts';
import { findingOf, fingeringIn, observationsIn, sayHeard } from './observations.ts';
import { rankingCacheOf } from './ranking-cache.ts';
import type { RunState, Turn } from './run-state.ts';
import type { AnswerBody } from './schema.ts';
import { confirmProposals, tellProof } from './told.ts';
import { fillWords, wordsFor } from './words.ts';

type NoteBody = Extract<AnswerBody, { type: 'note' }>;

/**
 * The state after an answer.
 *
 * @throws Problem `unknown-answer` or `unknown-note`, listing what the step takes
 */
export function advance(book: RunBook, state: RunState, answer: AnswerBody): RunState {
  const step = book.content.flow.step(state.flow);
  const next =
    answer.type === 'note'
      ? takeNote(book, state, step, answer)
      : settle(
          book,
          answer.type === 'proposals'
            ? takeProposals(book, state, step, answer.ticked)
            : takeChoice(book, state, step, answer.choice),
        );
  const cautioned = new Set([...(state.cautioned ?? []), ...cautionsAt(book, step).map(({ id }) => id)]);
  return { ...next, cautioned: [...cautioned] };
}

/** The answer as the conversation tells it. @throws Problem as {@link advance} */
export function describeTurn(book: RunBook, state: RunState, answer: AnswerBody): Turn {
  const step = book.content.flow.step(state.flow);
  const key = stepKey(state, step);
  if (answer.type === 'note') {
    const fingering = fingeringIn(book, answer.fingering);
    const name = sayNote(book.instrument, fingering.note);
    const heard = answer.sounded === undefined ? '' : `: ${sayHeard(book, answer.sounded)}`;
    return {
      step: key,
      asked: fingering.kind === 'standard' ? name : `${name}, ${fingering.name ?? fingering.kind}`,
      answered: `${noteAnswerLabel(answer.answered)}${heard}`,
      answer,
    };
  }
  const words = wordsFor(book, state);
  if (answer.type === 'proposals') {
    const said = state.proposals.filter(({ id }) => answer.ticked.includes(id)).map(({ says }) => says);
    return {
      step: key,
      asked: fillWords(step.title, words),
      // Without the last full stop, as every other answer.
      answered: said.join(' ').replace(/\.$/, '') || 'None of it',
      answer,
    };
  }
  const check =
    step.kind === 'check' && state.focus.check !== null ? book.model.check(state.focus.check) : null;
  const label = answerLabels(step, check).find(({ id }) => id === answer.choice)?.label ?? answer.choice;
  return {
    step: key,
    asked: fillWords(check?.title ?? step.title, words),
    answered: fillWords(label, words),
    answer,
  };
}

/**
 * Gives earlier answers again, from an opening state. An answer whose step no longer comes is left out, unless it says
 * what was observed: then it still counts, except that a proof is asked for anew.
 */
export function replay(
  book: RunBook,
  opening: RunState,
  turns: readonly Turn[],
): { state: RunState; turns: Turn[] } {
  let state = opening;
  const taken: Turn[] = [];
  for (const turn of turns) {
    const step = book.content.flow.step(state.flow);
    if (stepKey(state, step) === turn.step) {
      state = advance(book, state, turn.answer);
      taken.push(turn);
      continue;
    }
    const findings = observationsIn(book, turn).filter(
      (finding) => provedBy(book.model, finding).length === 0,
    );
    if (findings.length === 0) continue;
    state = { ...state, findings: findings.reduce<readonly Finding[]>(withFinding, state.findings) };
    taken.push(turn);
  }
  return { state, turns: taken };
}

/** Names a step, and the check that it asks for, so that an answer can be given again only where it belongs. */
export function stepKey(state: RunState, step: FlowStep): string {
  return step.kind === 'check' && state.focus.check !== null ? `${step.id}/${state.focus.check}` : step.id;
}

function takeChoice(book: RunBook, state: RunState, step: FlowStep, choice: string): RunState {
  const isWayOut = step.choices.some(({ id }) => id === choice);
  return step.kind === 'check' && !isWayOut
    ? takeCheck(book, state, choice)
    : move(book, tellProof(book, state, choice), { type: 'choice', choice });
}

function takeNote(book: RunBook, state: RunState, step: FlowStep, answer: NoteBody): RunState {
  if (step.kind !== 'notes') {
    throw new Problem('unknown-answer', 'No note is asked for at this step. Give one of its answers.', {
      extra: { known: step.choices.map(({ id }) => id) },
    });
  }
  const fingering = fingeringIn(book, answer.fingering);
  if (answer.sounded !== undefined && parseNote(answer.sounded) === null) {
    throw new Problem('unknown-note', `"${answer.sounded}" is no note name. Write it like Bb3 or C#4.`, {
      fields: [{ pointer: '/answer/sounded', detail: 'Write it like Bb3 or C#4.' }],
    });
  }
  const finding: Finding = {
    note: fingering.note,
    fingering: fingering.id,
    answered: answer.answered,
    ...(answer.sounded === undefined || answer.answered !== 'wrong' ? {} : { sounded: answer.sounded }),
  };
  return { ...state, findings: withFinding(state.findings, finding) };
}

function takeProposals(book: RunBook, state: RunState, step: FlowStep, ticked: readonly string[]): RunState {
  const known = state.proposals.map(({ id }) => id);
  const unknown = ticked.find((id) => !known.includes(id));
  if (step.kind !== 'proposals' || unknown !== undefined) {
    const detail =
      step.kind === 'proposals'
        ? `"${unknown}" was not proposed.`
        : 'Nothing is proposed at this step. Give one of its answers.';
    throw new Problem('unknown-answer', detail, { extra: { known } });
  }
  return move(book, confirmProposals(book, state, ticked), {
    type: 'choice',
    choice: step.choices[0]?.id ?? '',
  });
}

function takeCheck(book: RunBook, state: RunState, saw: string): RunState {
  const id = state.focus.check;
  if (id === null) throw new Error(`the step ${state.flow.at} has no check to answer`);
  const finding = findingOf(book, id, saw);
  const counts = book.model.check(id).group === 'set-up' ? 0 : 1;
  return move(
    book,
    {
      ...state,
      findings: withFinding(state.findings, finding),
      askedSingly: (state.askedSingly ?? 0) + counts,
    },
    {
      type: 'recorded',
      confirms: provedBy(book.model, finding),
    },
  );
}

function move(book: RunBook, state: RunState, event: FlowEvent): RunState {
  const taken = book.content.flow.take(state.flow, event);
  if ('refused' in taken) {
    const known = book.content.flow.step(state.flow).choices.map(({ id }) => id);
    throw new Problem('unknown-answer', taken.refused, {
      fields: [{ pointer: '/answer/choice', detail: `Give one of: ${known.join(', ')}.` }],
      extra: { known },
    });
  }
  return afterRepairs(book, state, taken.state);
}

/** After a treatment some findings no longer hold, and the notes that they came from are played again. */
function afterRepairs(book: RunBook, state: RunState, flow: FlowState): RunState {
  const repair =
    flow.context.repairs.length > state.flow.context.repairs.length ? flow.context.repairs.at(-1) : undefined;
  const moved = { ...state, flow };
  if (repair === undefined || repair.leaves !== 'adjusted') return moved;
  const stale = new Set(staleAfter(book.model, repair.fault, [...state.told, ...state.findings]));
  return {
    ...moved,
    told: state.told.filter((finding) => !stale.has(finding)),
    findings: state.findings.filter((finding) => !stale.has(finding)),
    past: [...state.past, { fault: repair.fault, findings: state.findings }],
    retest: retestNotes(book.model, repair.fault, state.findings),
    askedSingly: 0,
  };
}

/** Lets the diagnosis decide as often as the charts ask for it, and passes over every page that has nothing to ask. */
function settle(book: RunBook, state: RunState): RunState {
  let settled = state;
  for (;;) {
    const step = book.content.flow.step(settled.flow);
    if (step.kind === 'weigh') settled = weigh(book, settled, step);
    else {
      const passed = passOver(book, settled, step);
      if (passed === null) return settled;
      settled = passed;
    }
  }
}

/**
 * Past a page of notes that has none, and past a question whose answer matters to no one; null where the page is to be shown,
 * and where the charts know no way, as editions of before do not.
 */
function passOver(book: RunBook, state: RunState, step: FlowStep): RunState | null {
  const { flow } = state;
  if (step.group !== 'retest' || state.retest.length > 0) {
    const granted = takeForGranted(book, flow);
    return granted === null ? null : { ...state, flow: granted };
  }
  const taken = book.content.flow.take(flow, { type: 'none' });
  return 'state' in taken ? { ...state, flow: taken.state } : null;
}

function weigh(book: RunBook, state: RunState, step: FlowStep): RunState {
  const verdict = decide(
    book.model,
    beliefOf(book, state),
    state.findings,
    situationOf(book, state),
    treatedFaults(state),
    {
      ...(step.group === 'set-up' ? { groups: ['set-up'] } : {}),
      cache: rankingCacheOf(book.model),
      askedSingly: state.askedSingly ?? 0,
    },
  );
  const focused = { ...state, focus: focusOf(state, verdict) };
  return move(book, focused, verdict.kind === 'healthy' ? wellEvent(state) : toEvent(verdict));
}

function focusOf(state: RunState, verdict: Verdict): RunState['focus'] {
  return {
    check: 'check' in verdict ? verdict.check : null,
    fault:
      'fault' in verdict && verdict.fault !== null
        ? verdict.fault
        : verdict.kind === 'healthy'
          ? // What was mended last: what was asked after it may have been about something else.
            (state.past.at(-1)?.fault ?? null)
          : null,
  };
}

/** That it plays is said only where every note that ever failed has been heard to speak since. */
function wellEvent({ findings, past }: RunState): FlowEvent {
  const ever = failedNotes([...past.flatMap((treatment) => treatment.findings), ...findings]).map(subjectOf);
  const speaking = findings
    .filter((finding) => isNote(finding) && finding.answered === 'speaks')
    .map(subjectOf);
  return { type: 'verdict', verdict: ever.every((note) => speaking.includes(note)) ? 'healthy' : 'better' };
}

function toEvent(verdict: Exclude<Verdict, { kind: 'healthy' }>): FlowEvent {
  switch (verdict.kind) {
    case 'treat':
      return {
        type: 'verdict',
        verdict: 'treat',
        fault: verdict.fault,
        procedure: verdict.procedure,
        ...(verdict.direction === null ? {} : { direction: verdict.direction }),
      };
    case 'confirm':
      return { type: 'verdict', verdict: 'confirm', fault: verdict.fault };
    case 'bench':
      return {
        type: 'verdict',
        verdict: 'bench',
        ...(verdict.fault === null ? {} : { fault: verdict.fault }),
      };
    default:
      return { type: 'verdict', verdict: verdict.kind };
  }
}
