/** What a run is at one moment: plain JSON, kept beside every entry of its log. */
import type { CheckFinding, Finding } from '../diagnosis/index.ts';
import type { FlowState } from '../flow/index.ts';
import { isCheck } from './findings.ts';
import type { AnswerBody } from './schema.ts';

/** One thing that the complaint may mean: in words, and as findings. */
export type StoredProposal = {
  readonly id: string;
  readonly says: string;
  readonly findings: readonly Finding[];
  /** False: another reading of words that can mean several things. */
  readonly isLikely: boolean;
};

/** A treatment that changed the instrument, and everything that had been observed before it. */
export type Treatment = { readonly fault: string; readonly findings: readonly Finding[] };

export type RunState = {
  readonly instrument: string;
  readonly complaint: string | null;
  readonly flow: FlowState;
  /** What the complaint was taken to mean; counts only where it has been ticked. */
  readonly proposals: readonly StoredProposal[];
  /** The proposals that were ticked, in words. */
  readonly confirmed: readonly string[];
  /**
   * Ticked findings of checks that could prove a fault. They make suspects likelier and prove nothing: each of these checks
   * is asked for as if nothing had been said, and its answer then takes the place of what was told.
   */
  readonly told: readonly CheckFinding[];
  /** What has been observed and still counts. */
  readonly findings: readonly Finding[];
  /** What stood at each treatment, when it had been carried out: told on the ticket and the outcome page. */
  readonly past: readonly Treatment[];
  /** The check and the fault that the step is about. */
  readonly focus: { readonly check: string | null; readonly fault: string | null };
  /** Checks asked one by one since the last treatment; not there in runs begun before they were counted. */
  readonly askedSingly?: number;
  /** Fingerings to play again after a treatment. */
  readonly retest: readonly string[];
  /** Ids of the cautions that the steps so far have shown; runs of an earlier program have none. */
  readonly cautioned?: readonly string[];
  /** The entry whose answer is the last one that counts; 0 before the first. */
  readonly head: number;
};

type Complaint = 'proposals' | 'confirmed' | 'told';

/** A state as it was stored; runs that began before complaints were read have nothing of them. */
export function reviveState(stored: unknown): RunState {
  const state = stored as Omit<RunState, Complaint> & Partial<Pick<RunState, Complaint>>;
  return { proposals: [], confirmed: [], told: [], ...state };
}

/** Everything that the diagnosis is to believe: what was told, as far as it has not been looked at since, and what was observed. */
export function evidenceOf({ told, findings }: RunState): readonly Finding[] {
  const seen = new Set(findings.filter(isCheck).map(({ check }) => check));
  const standing = told.filter(({ check }) => !seen.has(check));
  return standing.length === 0 ? findings : [...standing, ...findings];
}

/** One answer as the conversation tells it, with all that is needed to give it again. */
export type Turn = {
  readonly step: string;
  readonly asked: string;
  readonly answered: string;
  readonly answer: AnswerBody;
};

/**
 * What an entry of the log says. `after` is the entry that the answer follows, so that answers taken back drop out
 * of the chain without being removed from the log. `rebuilt` replaces the whole chain before it.
 */
export type EntryBody =
  | { readonly kind: 'answer'; readonly after: number; readonly turn: Turn }
  | { readonly kind: 'undo'; readonly head: number }
  | { readonly kind: 'rebuilt'; readonly why: 'undo' | 'change'; readonly turns: readonly Turn[] };

/**
 * The answers that count, first to last.
 *
 * @param bodies the log's entries by revision (1, 2, 3 …)
 * @param head the entry whose answer is the last that counts
 */
export function turnsThatCount(bodies: ReadonlyMap<number, EntryBody>, head: number): Turn[] {
  const backwards: Turn[] = [];
  for (let at = head; at > 0; ) {
    const body = bodies.get(at);
    if (body === undefined || body.kind === 'undo') throw new RangeError(`entry ${at} holds no answer`);
    if (body.kind === 'rebuilt') {
      backwards.push(...body.turns.toReversed());
      break;
    }
    backwards.push(body.turn);
    at = body.after;
  }
  return backwards.reverse();
}
