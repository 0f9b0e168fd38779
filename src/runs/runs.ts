/** The use cases of a run, as the edges (pages, API) see them. */
import type { AnswerRequest, ChangeRequest, Opening, UndoRequest } from './schema.ts';
import type { OutcomeView, RunView, StepView } from './view.ts';
import type { WhyView } from './why-schema.ts';

/** How an answer was taken: stored now, or already stored under the same key by an earlier send. */
export type Receipt = { readonly outcome: 'stored' | 'repeated'; readonly revision: number };

export interface Runs {
  /** Opens a run. The same key twice gives the same run. Throws Problem `unknown-instrument`. */
  open(opening: Opening, key: string): Promise<{ id: string; created: boolean }>;
  /** Everything that the run's page shows now. Throws Problem `unknown-run`. */
  view(id: string): Promise<RunView>;
  /** Records one answer to the current step. Throws `stale-step` (extra: revision), `unknown-answer`, `unknown-note`, `key-reused`, `unknown-run`, `store-unavailable`. */
  answer(id: string, request: AnswerRequest): Promise<Receipt>;
  /** Takes the last answer back; appends, removes nothing. Throws as `answer`, and `nothing-to-undo`. */
  undo(id: string, request: UndoRequest): Promise<Receipt>;
  /** The step that an earlier answer belonged to, to be answered anew. Throws `unknown-run`, `unknown-answer`. */
  earlierStep(id: string, entry: number): Promise<{ step: StepView; answered: string; revision: number }>;
  /** Replaces an earlier answer and plays the later ones again as far as they still fit. Throws as `answer`. */
  change(id: string, request: ChangeRequest): Promise<Receipt>;
  /** The outcome of a run that has ended. Throws `run-not-ended`, `unknown-run`. */
  outcome(id: string): Promise<OutcomeView>;
  /** Why the run thinks what it thinks, at whatever step it stands. Throws `unknown-run`. */
  why(id: string): Promise<WhyView>;
}
