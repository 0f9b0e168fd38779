/** What a run is at one moment: plain JSON, kept beside every entry of its log. */
import type { Finding } from '../diagnosis/index.ts';
import type { FlowState } from '../flow/index.ts';
import type { AnswerBody } from './schema.ts';

/** A treatment that changed the instrument, and everything that had been observed before it. */
export type Treatment = { readonly fault: string; readonly findings: readonly Finding[] };

export type RunState = {
  readonly instrument: string;
  readonly complaint: string | null;
  readonly flow: FlowState;
  /** What has been observed and still counts. */
  readonly findings: readonly Finding[];
  /** What stood at each treatment, when it had been carried out: told on the ticket and the outcome page. */
  readonly past: readonly Treatment[];
  /** The check and the fault that the step is about. */
  readonly focus: { readonly check: string | null; readonly fault: string | null };
  /** Fingerings to play again after a treatment. */
  readonly retest: readonly string[];
  /** Ids of the cautions that the steps so far have shown; runs of an earlier program have none. */
  readonly cautioned?: readonly string[];
  /** The entry whose answer is the last one that counts; 0 before the first. */
  readonly head: number;
};

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
