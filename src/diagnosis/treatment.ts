/** What may be done about a fault, by whom, and what proves it. */

import type { Check } from './check.ts';
import { readFinding } from './finding.ts';
import { NO_FAULT } from './hypotheses.ts';
import type { DiagnosisModel } from './model.ts';
import { filterPlaces, fitsPlace, WHOLE_INSTRUMENT } from './places.ts';
import type { Finding, Situation, TreatedFault, Treatment } from './schema.ts';

/** Why a fault cannot be treated here and now. */
export type Obstacle = 'bench-work' | 'not-by-telephone' | 'owner' | 'no-tool' | 'unchanged' | 'came-back';

/** Whether this person can do a check with what is to hand. */
export function canDo(check: Check, { person, tools, canPlay }: Situation): boolean {
  if (!check.persons.includes(person)) return false;
  if (check.needsPlaying && !canPlay) return false;
  return check.tools.every((tool) => tools.includes(tool));
}

/** A finding that proves a fault: a check and one of its answers, by position. */
export type Proof = {
  readonly position: number;
  readonly answer: number;
  /** Fits other faults too: counts only when the proofs before it have been asked for or cannot be had. */
  readonly isFallback: boolean;
};

const treatments = new WeakMap<DiagnosisModel, (Treatment | null)[]>();

/** What faults.yaml lets people do about a fault; null means bench work. @param fault its number. */
export function treatmentOf(model: DiagnosisModel, fault: number): Treatment | null {
  let known = treatments.get(model);
  if (known === undefined) {
    known = model.hypotheses.faults.map(({ place }, number) => {
      const candidates = model.kindOf(number).treatments;
      return candidates.find(({ at }) => fitsPlace(model.instrument, at, place)) ?? null;
    });
    treatments.set(model, known);
  }
  return known[fault] ?? null;
}

/** So often at most a fault is treated in one run: what shows itself once more after that has another cause; figure of ours. */
const SAME_AT_MOST = 2;

/**
 * What stands against treating a fault here; null when nothing does.
 * The desk never adjusts, nobody adjusts against the owner's word, what did not help is not done again, and what came back
 * twice is for the bench (a fault that returns after an adjustment has another cause: proneoboe-2011 in outcomes.yaml).
 */
export function obstacleTo(
  model: DiagnosisModel,
  fault: number,
  situation: Situation,
  treated: readonly TreatedFault[],
): Obstacle | null {
  const { id } = model.hypotheses.faults[fault]!;
  if (treated.some((one) => one.fault === id && one.exit === 'unchanged')) return 'unchanged';
  if (cameBack(treated).includes(id)) return 'came-back';
  const treatment = treatmentOf(model, fault);
  if (treatment === null) return 'bench-work';
  if (treatment.adjusts && situation.person === 'desk') return 'not-by-telephone';
  if (treatment.adjusts && !situation.ownerAllows) return 'owner';
  return treatment.tools.every((tool) => situation.tools.includes(tool)) ? null : 'no-tool';
}

/** The faults that were put right as often as they may be. */
function cameBack(treated: readonly TreatedFault[]): string[] {
  const mended = treated.filter(({ exit }) => exit === 'mended');
  return [...Map.groupBy(mended, ({ fault }) => fault)]
    .filter(([, times]) => times.length >= SAME_AT_MOST)
    .map(([fault]) => fault);
}

const proofs = new WeakMap<DiagnosisModel, Proof[][]>();

/** The findings that prove a fault, the preferred one first; never empty. @param fault its number. */
export function proofsOf(model: DiagnosisModel, fault: number): readonly Proof[] {
  let known = proofs.get(model);
  if (known === undefined) {
    known = model.hypotheses.faults.map((_, number) => findProofs(model, number));
    proofs.set(model, known);
  }
  return known[fault]!;
}

function findProofs(model: DiagnosisModel, fault: number): Proof[] {
  const { place } = model.hypotheses.faults[fault]!;
  return model.kindOf(fault).confirm.flatMap(({ check, saw, isFallback }) => {
    const kind = model.knowledge.checks.kinds.find(({ id }) => id === check)!;
    const covers =
      kind.rule.by === 'sign' &&
      kind.rule.covers !== undefined &&
      filterPlaces(model.instrument, kind.rule.covers).includes(place);
    const id = `${check}@${covers ? WHOLE_INSTRUMENT : place}`;
    if (!model.hasCheck(id)) return [];
    return [
      {
        position: model.positionOf(id),
        answer: kind.answers.findIndex((answer) => answer.id === saw),
        isFallback: isFallback === true,
      },
    ];
  });
}

/**
 * Whether the fault's own proof is among the findings. A fallback proof counts only when those before it have been asked
 * for or cannot be had by this person. @param fault its number.
 */
export function isProved(
  model: DiagnosisModel,
  fault: number,
  findings: readonly Finding[],
  situation: Situation,
): boolean {
  const wanted = proofsOf(model, fault);
  const read = findings.map((finding) => readFinding(model, finding));
  const isSeen = ({ position, answer }: Proof) =>
    read.some((one) => one.position === position && one.answer === answer);
  const isOpen = ({ position }: Proof) =>
    canDo(model.checks[position]!, situation) && !read.some((one) => one.position === position);
  return wanted.some((proof, index) => {
    if (!isSeen(proof)) return false;
    return !proof.isFallback || !wanted.slice(0, index).some(isOpen);
  });
}

/**
 * The ids of all faults whose own proof a finding is; empty for most findings. Fallback proofs are among them: whether
 * they count depends on what else has been asked, see {@link isProved}.
 */
export function provedBy(model: DiagnosisModel, finding: Finding): string[] {
  const { position, answer } = readFinding(model, finding);
  if (answer === null) return [];
  return model.hypotheses.faults
    .filter((_, fault) =>
      proofsOf(model, fault).some((proof) => proof.position === position && proof.answer === answer),
    )
    .map(({ id }) => id);
}

/** What would be done if a hypothesis were sure: classes of action, the ones that lead to the same step being one. */
export type ActionClasses = {
  readonly count: number;
  /** Class of each fault. 0 leave it as it is, 1 bench, from 2 on one class for each treatment at each place. */
  readonly ofFault: Int16Array;
};
export const LEAVE_CLASS = 0;
export const BENCH_CLASS = 1;

const classMemory = new WeakMap<DiagnosisModel, Map<string, ActionClasses>>();

/** Classes of action for this person in this situation; kept, because few situations differ in them. */
export function actionClasses(
  model: DiagnosisModel,
  situation: Situation,
  treated: readonly TreatedFault[],
): ActionClasses {
  const known = classMemory.get(model) ?? new Map<string, ActionClasses>();
  classMemory.set(model, known);
  const unchanged = treated.filter(({ exit }) => exit === 'unchanged').map(({ fault }) => fault);
  const given = [...unchanged, ...cameBack(treated)];
  const { person, ownerAllows, tools } = situation;
  const key = [person, ownerAllows, ...[...tools].sort(), ...given.sort()].join(' ');
  const classes = known.get(key) ?? sortOut(model, situation, treated);
  known.set(key, classes);
  return classes;
}

function sortOut(
  model: DiagnosisModel,
  situation: Situation,
  treated: readonly TreatedFault[],
): ActionClasses {
  const names: string[] = [];
  const ofFault = Int16Array.from(model.hypotheses.faults, ({ place }, fault) => {
    if (obstacleTo(model, fault, situation, treated) !== null) return BENCH_CLASS;
    const { procedure, direction } = treatmentOf(model, fault)!;
    const name = `${procedure} ${direction ?? ''} ${place}`;
    const known = names.indexOf(name);
    return 2 + (known === -1 ? names.push(name) - 1 : known);
  });
  return { count: 2 + names.length, ofFault };
}

/** The class of a hypothesis with these faults: the first that can be treated here, else the bench. */
export function classOf({ ofFault }: ActionClasses, first: number, second: number): number {
  if (first === NO_FAULT) return LEAVE_CLASS;
  const own = ofFault[first]!;
  if (own !== BENCH_CLASS || second === NO_FAULT) return own;
  return ofFault[second]!;
}
