/** Which note to hold, and which touch to tap, so that one can hear turn by turn whether a link holds its key. */
import type { Check } from '../diagnosis/index.ts';
import { type FlowStep, turnsInWords } from '../flow/index.ts';
import { type Degree, type Fingering, type Instrument, placeFault, predictNote } from '../mechanism/index.ts';
import type { RunBook } from './book.ts';
import { fingeringName } from './note-names.ts';
import { proofOf } from './proof.ts';
import type { RunState } from './run-state.ts';
import type { WaveringView } from './view.ts';
import { toneOf } from './written-note.ts';

/** How much a note should suffer to be worth holding: plainly, and not so much that it does not come at all. */
const preferred: readonly Degree[] = ['clear', 'severe', 'slight'];

/** What is listened to while the screw in hand is turned; null where no key is tapped to prove its fault. */
export function viewWavering(book: RunBook, state: RunState, { role }: FlowStep): WaveringView | null {
  const { fault, check } = faultInHand(book, state);
  if (fault === null || check?.tap === undefined) return null;
  const { procedure, counters, repairs } = state.flow.context;
  const turns = book.content.flow.charts.procedures.find((chart) => chart.procedure === procedure)?.turns;
  const held = turns === undefined ? null : heldNote(book.instrument, fault, check);
  if (turns === undefined || held === null) return null;
  const turned = counters[turns] ?? 0;
  return {
    trial: `${procedure} ${fault} ${repairs.length}`,
    isAsked: role === 'test' || role === 'stop-sign' || (role === 'turn' && turned === 0),
    turned,
    turnedWords: turnsInWords(turned),
    touch: book.instrument.part(check.tap).name,
    note: held.note,
    name: fingeringName(book.instrument, held),
    tone: toneOf(book.instrument, held.note),
  };
}

function faultInHand(book: RunBook, state: RunState): { fault: string | null; check: Check | null } {
  const { fault } = state.focus;
  const isAtWork = fault !== null && state.flow.context.procedure !== null;
  return isAtWork ? { fault, check: proofOf(book, fault) } : { fault: null, check: null };
}

/**
 * The note that tells best whether a tapped touch lets air out: it uses what the check holds and not what it taps, is
 * undisturbed by the tapping on a good instrument, and is disturbed by it while the fault is there (held as moderate).
 *
 * @returns a fingering of the low register, the shortest of those that suffer alike; null where no note tells
 */
export function heldNote(
  instrument: Instrument,
  faultId: string,
  { hold = [], tap }: Pick<Check, 'hold' | 'tap'>,
): Fingering | null {
  if (tap === undefined) return null;
  const fault = placeFault(instrument.fault(faultId), 'moderate');
  const telling = instrument.fingerings
    .filter(({ kind, register, touches }) => kind === 'standard' && register === 1 && !touches.includes(tap))
    .filter(({ touches }) => hold.every((touch) => touches.includes(touch)))
    .flatMap((fingering) => {
      const tapped = { ...fingering, touches: [...fingering.touches, tap] };
      const good = predictNote(instrument, tapped, []);
      const { degree } = predictNote(instrument, tapped, [fault]);
      const isTelling = good.degree === 'none' && good.sounded === null && preferred.includes(degree);
      return isTelling ? [{ fingering, rank: preferred.indexOf(degree) }] : [];
    });
  telling.sort(
    (one, other) => one.rank - other.rank || one.fingering.touches.length - other.fingering.touches.length,
  );
  return telling[0]?.fingering ?? null;
}
