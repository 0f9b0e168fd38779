/** After a treatment: what to play again, and what no longer counts. */
import {
  type Fingering,
  faultId,
  midi,
  type PlacedFault,
  placeFault,
  predictNote,
  severitiesOf,
} from '../mechanism/index.ts';
import { playCheckId } from './check.ts';
import { faultNumberOf } from './fault-words.ts';
import { checkOf, fingeringOf } from './finding.ts';
import { HEALTHY, NO_FAULT } from './hypotheses.ts';
import type { DiagnosisModel } from './model.ts';
import { predict } from './prediction.ts';
import type { Finding } from './schema.ts';

/** So many of the worst notes are played to see that the treatment did not go too far; estimate. */
const GUARDS = 2;

/** So many notes at most are played on which the fault may have hidden another; estimate. */
const UNHIDDEN = 4;
/** A note is played for that from this share of all second faults on; estimate. */
const WORTH_UNHIDING = 0.02;

const DEGREE_NUMBER = { none: 0, slight: 1, clear: 2, severe: 3 } as const;

/**
 * The fingerings to play after a fault has been treated: those that failed, and those that too much of the same
 * adjustment would spoil, and as many more as it takes to call it well. The second are few: the highest note of the low register that would suffer at all, which marks
 * where the trouble would begin, and the lowest of those that would suffer most.
 * @param fault id of the treated fault. @returns ids of fingerings. @throws RangeError for an unknown fault or note.
 */
export function retestNotes(model: DiagnosisModel, fault: string, findings: readonly Finding[]): string[] {
  const failed = findings
    .filter((finding) => 'note' in finding)
    .filter(({ answered }) => answered === 'unsteady' || answered === 'wrong' || answered === 'silent')
    .map(({ note, fingering }) => fingeringOf(model.instrument, note, fingering).id);
  const wanted = new Set([...failed, ...guardNotes(model, fault, failed), ...hiddenNotes(model, fault)]);
  return [...wanted, ...furtherNotes(model, fault, findings, wanted)];
}

/**
 * Notes of the play test beyond those wanted, where too few would be left that count: without so many that speak no instrument is
 * called well. None where nothing has been played before the treatment.
 */
function furtherNotes(
  model: DiagnosisModel,
  fault: string,
  findings: readonly Finding[],
  wanted: ReadonlySet<string>,
): string[] {
  const stale = new Set(staleAfter(model, fault, findings));
  const played = findings.filter((finding) => 'note' in finding);
  const standing = played
    .filter((finding) => finding.answered === 'speaks' && !stale.has(finding))
    .map(({ note, fingering }) => fingeringOf(model.instrument, note, fingering).id);
  const counted = new Set([...wanted, ...standing]);
  const missing = model.knowledge.people.rules.healthyNotes.value - counted.size;
  if (played.length === 0 || missing <= 0) return [];
  return model.instrument.playTest
    .map(({ id }) => id)
    .filter((id) => !counted.has(id))
    .slice(0, missing);
}

/**
 * The notes of the play test on which the fault hid others that may well stand beside it: those that would now fail although
 * they spoke. The ones on which most of the chances of a second fault were hidden, at most so many.
 */
function hiddenNotes(model: DiagnosisModel, fault: string): string[] {
  const others = otherFaults(model, faultNumberOf(model, fault));
  const chanceOf = (some: readonly OtherFault[]) =>
    some.reduce((sum, { pair }) => sum + Math.exp(model.hypotheses.logPrior[pair]!), 0);
  const all = chanceOf(others);
  return model.instrument.playTest
    .map(({ id }) => {
      const position = model.positionOf(playCheckId(id));
      const hidden = others.filter(({ pair, alone }) => isHidden(model, position, pair, alone));
      return { id, share: chanceOf(hidden) / all };
    })
    .filter(({ share }) => share >= WORTH_UNHIDING)
    .sort((one, other) => other.share - one.share)
    .slice(0, UNHIDDEN)
    .map(({ id }) => id);
}

type OtherFault = { readonly pair: number; readonly alone: number };

/** The faults that may stand beside a fault: the hypothesis of both, and that of the other one alone in the same severity. */
function otherFaults({ hypotheses }: DiagnosisModel, fault: number): OtherFault[] {
  const { first, second, firstPair, having, middle } = hypotheses;
  return [...having[fault]!]
    .filter((hypothesis) => hypothesis >= firstPair)
    .map((pair) => ({ pair, alone: middle[first[pair] === fault ? second[pair]! : first[pair]!]! }));
}

/** Whether a check shows another fault otherwise once this one has gone. What went before is no matter of either. */
function isHidden(model: DiagnosisModel, position: number, pair: number, alone: number): boolean {
  const predictions = model.predictions(position);
  if (predictions.planned.plan.by === 'history') return false;
  const code = (hypothesis: number) => predict(model.predictor, predictions, hypothesis);
  return code(alone) !== code(pair) && code(alone) !== code(HEALTHY);
}

/** The notes that too much of the same treatment would spoil, most of all first; empty when it cannot be overdone. */
function guardNotes(model: DiagnosisModel, fault: string, failed: readonly string[]): string[] {
  const opposite = overdoneFault(model, fault);
  if (opposite === NO_FAULT) return [];
  const placed = [placeFault(model.hypotheses.faults[opposite]!, 'moderate')];
  const standard = model.instrument.playTest.filter(({ kind }) => kind === 'standard');
  const spoiled = standard
    .map((fingering) => ({ fingering, harm: harmOf(model, fingering, placed) }))
    .filter(({ harm }) => harm > 0);
  const worst = [...spoiled].sort(
    (one, other) => other.harm - one.harm || midi(one.fingering.note) - midi(other.fingering.note),
  );
  const highest = spoiled
    .filter(({ fingering }) => fingering.register === 1)
    .sort((one, other) => midi(other.fingering.note) - midi(one.fingering.note))
    .slice(0, 1);
  const fresh = worst.filter(({ fingering }) => !failed.includes(fingering.id)).slice(0, GUARDS);
  return [...highest, ...fresh].map(({ fingering }) => fingering.id);
}

function harmOf(
  { instrument }: DiagnosisModel,
  fingering: Fingering,
  placed: readonly PlacedFault[],
): number {
  const { degree, sounded } = predictNote(instrument, fingering, placed);
  return sounded === null ? DEGREE_NUMBER[degree] : DEGREE_NUMBER.severe;
}

function overdoneFault(model: DiagnosisModel, fault: string): number {
  const number = faultNumberOf(model, fault);
  const { overdone } = model.kindOf(number);
  if (overdone === undefined) return NO_FAULT;
  return (
    model.hypotheses.faultNumber.get(faultId(overdone, model.hypotheses.faults[number]!.place)) ?? NO_FAULT
  );
}

/**
 * The findings that no longer count once a fault has been treated: all those that the fault, or too much of its
 * treatment, would have changed, and those in which it may have hidden another fault. The others stand.
 * @returns the very objects among `findings`. @throws RangeError for an unknown fault, note or check.
 */
export function staleAfter(model: DiagnosisModel, fault: string, findings: readonly Finding[]): Finding[] {
  const faults = [faultNumberOf(model, fault), overdoneFault(model, fault)].filter(
    (number) => number !== NO_FAULT,
  );
  return findings.filter((finding) => {
    const position = model.positionOf(checkOf(model, finding));
    return faults.some((number) => changesAnswer(model, number, position));
  });
}

function changesAnswer(model: DiagnosisModel, fault: number, position: number): boolean {
  const predictions = model.predictions(position);
  const well = predict(model.predictor, predictions, HEALTHY);
  const severities = severitiesOf(model.hypotheses.faults[fault]!).length;
  const singles = model.hypotheses.having[fault]!.subarray(0, severities);
  return (
    singles.some((hypothesis) => predict(model.predictor, predictions, hypothesis) !== well) ||
    otherFaults(model, fault).some(({ pair, alone }) => isHidden(model, position, pair, alone))
  );
}
