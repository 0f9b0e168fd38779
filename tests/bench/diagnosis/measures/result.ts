/** What one simulated run comes to: plain data, so that it can cross from a worker. */
import type { Person } from '../../../../src/diagnosis/index.ts';
import type { Guess } from './guess.ts';

/** Effort up to the decision. Notes of the play-test page are counted apart from the checks that are asked one by one. */
export type Effort = { readonly checks: number; readonly notes: number; readonly seconds: number };

export type Decision = {
  readonly kind: 'treat' | 'bench' | 'well' | 'danger' | 'stopped';
  readonly guess: Guess;
  readonly effort: Effort;
};

/** An adjusting step that was offered. */
export type Offer = { readonly fault: string; readonly isAtFault: boolean; readonly isProved: boolean };

export type Result = {
  readonly instrument: string;
  readonly person: Person;
  readonly seed: number;
  readonly truth: readonly string[];
  /** What would be right to do about any of it. */
  readonly deeds: readonly string[];
  /** A danger sign is there, and whether the person sees it when asked. */
  readonly danger: 'none' | 'seen' | 'overlooked';
  readonly engine: Decision;
  readonly outcome: string;
  /** Whether the outcome says that it plays, or writes a ticket, or sets it aside unlooked at. */
  readonly end: 'plays' | 'ticket' | 'set-aside';
  readonly offers: readonly Offer[];
  /** Eighths of a turn left in screws that were in order, and whether the ticket tells of them. */
  readonly strayTurns: number;
  readonly isStrayTold: boolean;
  /** Faults that are left at the end. */
  readonly left: readonly string[];
  /** Faults that the ticket names as suspects; none without a ticket. */
  readonly named: readonly string[];
  readonly ceiling: Guess | null;
  readonly knowing: Decision | null;
  readonly checklist: Decision | null;
};
