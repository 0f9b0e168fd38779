/** The check that proves a fault, for the texts that ask to do it again after each turn. */
import { type Check, type CheckFinding, proofsOf } from '../diagnosis/index.ts';
import type { RunBook } from './book.ts';

/** The preferred check whose answer proves this fault; null where the instrument has no such fault. */
export function proofOf({ model }: RunBook, faultId: string): Check | null {
  const fault = model.hypotheses.faultNumber.get(faultId);
  if (fault === undefined) return null;
  const first = proofsOf(model, fault)[0];
  return first === undefined ? null : (model.checks[first.position] ?? null);
}

/** What the preferred proof of a fault shows while it is there, or once it has gone; null where there is no such answer. */
export function proofFinding(book: RunBook, faultId: string, shows: 'seen' | 'gone'): CheckFinding | null {
  const fault = book.model.hypotheses.faultNumber.get(faultId);
  const proof = fault === undefined ? undefined : proofsOf(book.model, fault)[0];
  const check = proof === undefined ? undefined : book.model.checks[proof.position];
  if (proof === undefined || check === undefined || check.kind === 'play') return null;
  const saw = shows === 'seen' ? check.answers[proof.answer] : quietAnswer(book, check);
  return saw === undefined ? null : { check: check.id, saw: saw.id };
}

/** What a check shows where nothing is the matter, with the words for it. */
export function quietAnswer({ model }: RunBook, { kind }: Check): { id: string; label: string } | undefined {
  return model.knowledge.checks.kinds.find(({ id }) => id === kind)?.answers.find(({ isQuiet }) => isQuiet);
}

/** The check that proves the fault into which too much of the treatment turns this one; null where there is none. */
export function oppositeProofOf(book: RunBook, faultId: string): Check | null {
  const { place, kind } = book.instrument.fault(faultId);
  const overdone = book.model.knowledge.faults.kinds.find((entry) => entry.kind === kind)?.overdone;
  return overdone === undefined ? null : proofOf(book, `${overdone}@${place}`);
}
