/** The person who carries a procedure out: what comes of each step on the instrument, and what they say of it. */
import type { Content } from '../../../../src/content/index.ts';
import type { FlowStep } from '../../../../src/flow/index.ts';
import type { RunState } from '../../../../src/runs/run-state.ts';
import type { Case } from './case.ts';
import type { Patient } from './patient.ts';
import { HANDS } from './rates.ts';

/** What the person answers at a step of a procedure. The instrument changes with what is done. */
export function workOn(
  the: Case,
  patient: Patient,
  content: Content,
  state: RunState,
  step: FlowStep,
): string {
  const page = content.flow.states.get(step.id);
  const role = page !== undefined && 'role' in page ? page.role : undefined;
  const fault = state.focus.fault ?? '';
  if (step.turnsNow !== null || role !== undefined) return turnScrew(the, patient, state, step, role);
  const plain = step.choices.filter(({ tone }) => tone === 'plain');
  if (step.id.endsWith('.be-sure')) {
    const notices = the.maker.isSwapped && the.draws.chance(`hands/${fault}/notices`, HANDS.stopsWhenSwapped);
    return notices && lookAlikeOf(the, linkOf(fault)) !== null ? 'not-sure' : 'sure';
  }
  const choices = page !== undefined && 'choices' in page ? page.choices : [];
  const isDone = (id: string) => choices.some((choice) => choice.id === id && choice.exit === 'done');
  const done = plain.find(({ id }) => isDone(id));
  if (done === undefined) return plain[0]!.id;
  // The last step of a screw's chart keeps what has been turned; the instrument is as the screw made it.
  if (isScrewChart(the, fault)) return done.id;
  const succeeds = patient.has(fault) && the.draws.chance(`hands/${fault}`, HANDS.comesOff);
  if (succeeds) patient.mend(fault);
  if (succeeds || the.draws.chance(`hands/${fault}/wishful`, HANDS.wishful)) return done.id;
  return plain.find(({ id }) => !isDone(id))?.id ?? step.choices.at(-1)!.id;
}

const linkOf = (fault: string) => fault.slice(fault.indexOf('@') + 1);
const isScrewChart = ({ maker }: Case, fault: string) =>
  maker.instrument.links.some(({ id, adjuster }) => id === linkOf(fault) && adjuster.kind === 'screw');

function lookAlikeOf({ maker }: Case, link: string): string | null {
  return maker.instrument.links.find(({ id }) => id === link)?.adjuster.lookAlike ?? null;
}

/** The screw that is really turned: at times the one that looks like it. */
function screwInHand(the: Case, link: string): string {
  const other = lookAlikeOf(the, link);
  const rate = the.maker.isSwapped ? HANDS.wrongScrewWhenSwapped : HANDS.wrongScrew;
  return other !== null && the.draws.chance(`hands/${link}/other`, rate) ? other : link;
}

function turnScrew(
  the: Case,
  patient: Patient,
  state: RunState,
  step: FlowStep,
  role: string | undefined,
): string {
  const link = linkOf(state.focus.fault ?? '');
  const inwards = state.flow.context.direction === 'out' ? -1 : 1;
  const say = (...ids: string[]) =>
    ids.find((id) => step.choices.some((choice) => choice.id === id)) ?? step.choices[0]!.id;
  if (step.turnsNow !== null) {
    patient.turnIn(screwInHand(the, link), inwards * step.turnsNow);
    return step.choices[0]!.id;
  }
  // Eighths that are still missing in the direction of the treatment; below zero it has gone too far.
  const missing = inwards * patient.offset(link);
  const turned =
    Object.values(state.flow.context.counters).length > 0 ? (state.flow.context.counters.turned ?? 0) : 0;
  const visit = `hands/${link}/${step.id}/${turned}`;
  switch (role) {
    case 'test':
      if (step.id.endsWith('test-again')) return missing <= 0 ? say('good') : say('back');
      if (missing <= -2 && turned >= 3 && the.draws.chance(`${visit}/worse`, 0.5)) return say('worse');
      if (missing <= 0)
        return wasOff(the, link) || the.draws.chance(`${visit}/wishful`, HANDS.wishful)
          ? say('gone')
          : say('same');
      return missing === 1 ? say('trace') : say(the.draws.chance(`${visit}/better`, 0.7) ? 'better' : 'same');
    case 'stop-sign':
      return missing <= 0 ? say('yes') : say('not-yet');
    case 'too-far':
      return the.draws.chance(`${visit}/too far`, missing <= -2 ? 0.8 : missing === -1 ? 0.3 : 0.03)
        ? say('too-far')
        : say('fine');
    default:
      return step.choices[0]!.id;
  }
}

/** Whether something was the matter with this screw to begin with, so that turning it makes a difference that one can see. */
function wasOff(the: Case, link: string): boolean {
  return the.truth.faults.some(({ fault }) => fault.place === link);
}
