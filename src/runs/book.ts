/** All that the steps of one run are made from: the edition, the instrument, its diagnosis, and who is asking. */
import { readComplaint } from '../complaint/index.ts';
import type { Content, InstrumentContent } from '../content/index.ts';
import {
  type Belief,
  type DiagnosisModel,
  obstacleTo,
  type Situation,
  type TreatedFault,
  treatmentOf,
} from '../diagnosis/index.ts';
import type { Staves } from '../engraving/index.ts';
import type { Family, FlowState, FlowStep, ShownCaution } from '../flow/index.ts';
import type { Instrument } from '../mechanism/index.ts';
import type { Layout } from '../picture/index.ts';
import { Problem } from '../problems.ts';
import { believeCached } from './belief-cache.ts';
import { evidenceOf, type RunState } from './run-state.ts';
import type { Opening } from './schema.ts';

export type RunBook = {
  readonly content: Content;
  readonly instrument: Instrument;
  readonly layout: Layout;
  /** Null in an edition of before families. */
  readonly family: Family | null;
  readonly model: DiagnosisModel;
  readonly person: Opening['person'];
  readonly staves: Staves;
  /** The state of a run that has just been opened. */
  begin(opening: Opening): RunState;
};

/**
 * The book of a run.
 *
 * @param content the edition that the run keeps
 * @param staves where its notes are found as they are written
 * @throws Problem `unknown-instrument`, listing the instruments that there are
 */
export function openRun(content: Content, instrumentId: string, person: string, staves: Staves): RunBook {
  const entry = findInstrument(content, instrumentId);
  return {
    content,
    ...entry,
    family: content.families.get(entry.instrument.family) ?? null,
    person: person as Opening['person'],
    staves,
    begin: (opening) => beginRun(content, entry, opening),
  };
}

function beginRun(content: Content, { instrument, model }: InstrumentContent, opening: Opening): RunState {
  const complaint = opening.complaint === undefined || opening.complaint === '' ? null : opening.complaint;
  const read =
    complaint === null || content.vocabulary === null
      ? []
      : readComplaint(instrument, model, content.vocabulary, complaint).proposals;
  const proposals = read.map(({ says, findings, isLikely }, index) => ({
    id: `proposal-${index + 1}`,
    says,
    findings,
    isLikely,
  }));
  const flow = content.flow.begin({ person: opening.person, tools: opening.tools });
  return {
    instrument: instrument.id,
    complaint,
    flow: proposals.length === 0 ? passOverProposals(content, flow) : flow,
    proposals,
    confirmed: [],
    told: [],
    findings: [],
    past: [],
    focus: { check: null, fault: null },
    retest: [],
    head: 0,
  };
}

/** Where a complaint says nothing that counts, nobody is asked whether it was understood. */
function passOverProposals(content: Content, flow: FlowState): FlowState {
  const step = content.flow.step(flow);
  const choice = step.choices[0]?.id;
  if (step.kind !== 'proposals' || choice === undefined) return flow;
  const taken = content.flow.take(flow, { type: 'choice', choice });
  return 'state' in taken ? taken.state : flow;
}

/**
 * An instrument of an edition with all that belongs to it.
 *
 * @throws Problem `unknown-instrument`, listing the instruments that there are
 */
export function findInstrument(content: Content, id: string): InstrumentContent {
  const found = content.instruments.get(id);
  if (found !== undefined) return found;
  const known = [...content.instruments.keys()];
  throw new Problem('unknown-instrument', `There is no instrument "${id}". There is: ${known.join(', ')}.`, {
    fields: [{ pointer: '/instrument', detail: `Give one of: ${known.join(', ')}.` }],
    extra: { known },
  });
}

/** What has been treated so far, as the diagnosis wants to know it. */
export function treatedFaults(state: RunState): TreatedFault[] {
  return state.flow.context.repairs.map(({ fault, leaves }) => ({
    fault,
    exit: leaves === 'adjusted' ? 'mended' : 'unchanged',
  }));
}

/** Who is asking, with what to hand, and what the owner allows. */
export function situationOf({ content }: RunBook, { flow }: Pick<RunState, 'flow'>): Situation {
  const { person, tools, canPlay, ownerAllows } = content.flow.situation(flow);
  return { person, tools: [...tools] as Situation['tools'], canPlay, ownerAllows };
}

/** Whether something could be adjusted here if the owner allowed it: by this person, with what is to hand. */
function couldAdjust(model: DiagnosisModel, situation: Situation): boolean {
  const allowed = { ...situation, ownerAllows: true };
  return model.hypotheses.faults.some(
    (_, fault) =>
      treatmentOf(model, fault)?.adjusts === true && obstacleTo(model, fault, allowed, []) === null,
  );
}

/** The flow after an answer that need not be asked for; null where the page is to be shown. */
export function takeForGranted(book: RunBook, flow: FlowState): FlowState | null {
  const { content, model } = book;
  const choice = content.flow.step(flow).withoutAdjusting;
  if (choice === null || couldAdjust(model, situationOf(book, { flow }))) return null;
  const taken = content.flow.take(flow, { type: 'choice', choice });
  return 'state' in taken ? taken.state : null;
}

/** What is believed after everything that this run has found and done. */
export function beliefOf(book: RunBook, state: RunState): Belief {
  return believeCached(book.model, evidenceOf(state), book.person, treatedFaults(state));
}

/** The cautions of a step; where it announces the family, those of the family too. */
export function cautionsAt({ content, family }: RunBook, step: FlowStep): readonly ShownCaution[] {
  if (!step.announcesFamily || family === null) return step.cautions;
  const shown = new Set(step.cautions.map(({ id }) => id));
  const own = family.cautions.filter((id) => !shown.has(id)).flatMap((id) => content.cautions.get(id) ?? []);
  return [...step.cautions, ...own.map(({ id, text, brief = text }) => ({ id, text, brief }))];
}
