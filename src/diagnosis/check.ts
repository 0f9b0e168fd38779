import type { Fingering } from '../mechanism/index.ts';
import type { CheckKind, Person, Tool } from './schema.ts';

/** One thing that can be asked of a person at this instrument: a kind of check at a place, worded for it. */
export type Check = {
  /** `<kind>@<place>`, for a note `play@<fingering>`. */
  readonly id: string;
  readonly kind: string;
  readonly place: string;
  readonly title: string;
  readonly ask: string;
  readonly why: string;
  /** What is asked, said more plainly. */
  readonly plainly?: string;
  readonly answers: readonly { readonly id: string; readonly label: string }[];
  readonly seconds: number;
  readonly tools: readonly Tool[];
  readonly persons: readonly Person[];
  readonly group: CheckKind['group'];
  /** Has to be heard, so somebody must blow the instrument. */
  readonly needsPlaying: boolean;
  /** The fingering that is played, where one note is. */
  readonly plays?: string;
  /** The cup to look at, for the picture. */
  readonly watch?: string;
  /** The cup to compare it with, for the picture. */
  readonly beside?: string;
  /** The touches to hold, for the picture. */
  readonly hold?: readonly string[];
  /** The touch to tap while the others are held, for the picture. */
  readonly tap?: string;
};

/** How the answer to a check is worked out; positions in arrays, so that it can be done for thousands of hypotheses. */
export type Plan =
  | { readonly by: 'note'; readonly fingering: Fingering }
  | { readonly by: 'sealing'; readonly vent: number; readonly touches: readonly string[] }
  | { readonly by: 'pressing'; readonly vent: string; readonly fingering: Fingering }
  | { readonly by: 'stirring'; readonly vent: number; readonly touches: readonly string[] }
  | {
      readonly by: 'landing';
      readonly own: number;
      readonly target: number;
      readonly touches: readonly string[];
    }
  | { readonly by: 'opening'; readonly vent: number; readonly touches: readonly string[] }
  | { readonly by: 'rising'; readonly vent: number }
  | { readonly by: 'squeezing'; readonly fingering: Fingering }
  /** Per fault that shows something here: position of the answer. */
  | { readonly by: 'sign'; readonly shows: ReadonlyMap<number, number> }
  /** Per fault: chance that the story fits. */
  | { readonly by: 'history'; readonly chances: Float64Array; readonly otherwise: number };

/** A check with what the engine needs to reckon with it. Note checks have neither sense nor quiet answer. */
export type PlannedCheck = {
  readonly check: Check;
  readonly plan: Plan;
  readonly sense: string;
  /** Position of the answer that a good instrument gives. */
  readonly quiet: number;
  /** Positions of the answers that the rule names, in the rule's order. */
  readonly named: readonly number[];
};

/** The answers to a note, in this order everywhere. */
export const NOTE_ANSWERS = ['speaks', 'unsteady', 'wrong', 'silent'] as const;

/** The id of the check that a played fingering stands for. */
export function playCheckId(fingering: string): string {
  return `play@${fingering}`;
}
