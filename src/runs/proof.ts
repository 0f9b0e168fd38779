/** The check that proves a fault, for the texts that ask to do it again after each turn. */
import { type Check, proofsOf } from '../diagnosis/index.ts';
import type { RunBook } from './book.ts';

/** The preferred check whose answer proves this fault; null where the instrument has no such fault. */
export function proofOf({ model }: RunBook, faultId: string): Check | null {
  const fault = model.hypotheses.faultNumber.get(faultId);
  if (fault === undefined) return null;
  const first = proofsOf(model, fault)[0];
  return first === undefined ? null : (model.checks[first.position] ?? null);
}

/** The check that proves the fault into which too much of the treatment turns this one; null where there is none. */
export function oppositeProofOf(book: RunBook, faultId: string): Check | null {
  const { place, kind } = book.instrument.fault(faultId);
  const overdone = book.model.knowledge.faults.kinds.find((entry) => entry.kind === kind)?.overdone;
  return overdone === undefined ? null : proofOf(book, `${overdone}@${place}`);
}
