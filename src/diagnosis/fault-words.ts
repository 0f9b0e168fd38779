/** A fault in words, from the sentences of faults.yaml. */
import type { DiagnosisModel } from './model.ts';
import { fillIn } from './wording.ts';

/** What faults.yaml says about one fault, with the part's names filled in. */
export type FaultWords = {
  readonly title: string;
  readonly means: string;
  readonly tellTheBench: string;
  readonly job: string;
  readonly urgency: string;
};

const titles = new WeakMap<DiagnosisModel, string[]>();

/** The plain title of a fault. @param fault its number. */
export function faultTitle(model: DiagnosisModel, fault: number): string {
  const known = titles.get(model) ?? [];
  titles.set(model, known);
  known[fault] ??= fillIn(model.kindOf(fault).title, wordsOf(model, fault));
  return known[fault];
}

/** Everything that can be said about a fault. @throws RangeError for an unknown fault. */
export function describeSuspect(model: DiagnosisModel, faultId: string): FaultWords {
  const fault = faultNumberOf(model, faultId);
  const kind = model.kindOf(fault);
  const words = wordsOf(model, fault);
  return {
    title: faultTitle(model, fault),
    means: fillIn(kind.means, words),
    tellTheBench: fillIn(kind.tellTheBench, words),
    job: kind.job,
    urgency: kind.urgency,
  };
}

/** The number of a fault. @throws RangeError for an unknown one. */
export function faultNumberOf({ hypotheses }: DiagnosisModel, faultId: string): number {
  const fault = hypotheses.faultNumber.get(faultId);
  if (fault === undefined) throw new RangeError(`This instrument has no fault "${faultId}"`);
  return fault;
}

function wordsOf(
  { instrument, hypotheses, knowledge }: DiagnosisModel,
  fault: number,
): Record<string, string> {
  const { place, kind } = hypotheses.faults[fault]!;
  const words: Record<string, string> = { ...knowledge.words, place: instrument.part(place).name };
  if (kind !== 'slack' && kind !== 'tight') return words;
  const link = instrument.link(place);
  const { drivers, targets } = instrument.linkEnds(place);
  return {
    ...words,
    slack: link.slack.title,
    tight: link.tight.title,
    adjuster: link.adjuster.text,
    driver: drivers.map(({ name }) => name).join(' or '),
    target: targets.map(({ name }) => name).join(' and '),
  };
}
