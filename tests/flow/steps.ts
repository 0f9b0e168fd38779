/** What people say at the beginning of most stories, and how far it brings them. */
import type { FlowOutcome, FlowState } from '../../src/flow/index.ts';
import { realFlow as flow, recorded, say, sayAll, verdict } from './support.ts';

/** The fault of most stories: the screw between the right-hand stack and the G sharp cup is backed out. */
export const fault = 'slack@link.fsharp-holds-gsharp';
/** From the owner to the first weighing. */
export const ready = ['school', 'yes', 'none', 'fit', 'done', 'done'];
/** The verdict that the screw is to be turned in. */
export const treat = verdict('treat', { fault, procedure: 'turn-screw', direction: 'in' });
/** From finding the screw to keeping it where it stands, with one quarter turn. */
export const screwSetRight = ['found', 'sure', 'fits', 'done', 'turned', 'gone', 'yes', 'fine', 'done'];

/** A run that has just been opened, with nothing of a complaint to confirm. */
export const begin = (person: 'director' | 'helper' | 'desk') =>
  say(flow, flow.begin({ person, tools: ['screwdriver'] }), 'done');

/** How a run ended; undefined for one that has not. */
export const outcomeOf = (state: FlowState): FlowOutcome | undefined => flow.step(state).outcome;

/** The director with the slack G sharp screw proved, about to be told what comes next. */
export const proved = sayAll(flow, begin('director'), [
  ...ready,
  verdict('healthy'),
  'done',
  verdict('check'),
  recorded(),
  verdict('confirm', { fault }),
  recorded(fault),
]);
