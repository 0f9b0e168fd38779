/** What a decision looks at, and the steps that it may come to. */
import type { Belief } from './belief.ts';
import { checkOf } from './finding.ts';
import { SOMETHING_ELSE } from './hypotheses.ts';
import type { DiagnosisModel } from './model.ts';
import type { RankingCache, Scope } from './ranking.ts';
import type { Finding, Situation, TreatedFault } from './schema.ts';
import {
  actionClasses,
  BENCH_CLASS,
  canDo,
  classOf,
  isProved,
  type Obstacle,
  obstacleTo,
  type Proof,
  proofsOf,
  treatmentOf,
} from './treatment.ts';

export type BenchReason =
  | Obstacle
  /** None of the listed faults explains the answers well. */
  | 'something-else'
  | 'answers-do-not-fit'
  /** The likeliest fault cannot be proved with what is to hand. */
  | 'not-provable-here'
  /** Whatever it is, nothing that may be done here would help. */
  | 'nothing-to-treat'
  | 'checks-ran-out';

export type Verdict =
  | { readonly kind: 'check'; readonly check: string }
  | { readonly kind: 'confirm'; readonly fault: string; readonly check: string }
  | {
      readonly kind: 'treat';
      readonly fault: string;
      readonly procedure: string;
      readonly direction: 'in' | 'out' | null;
    }
  /** `fault` is named when it is likely enough to stand on the ticket. */
  | { readonly kind: 'bench'; readonly fault: string | null; readonly reason: BenchReason }
  | { readonly kind: 'healthy' };

export type DecideOptions = Scope & {
  readonly cache?: RankingCache;
  /** Checks asked one by one since the last treatment; when left out they are counted among the findings. */
  readonly askedSingly?: number;
};

/** Everything that a decision looks at. */
export type Case = {
  readonly model: DiagnosisModel;
  readonly belief: Belief;
  readonly findings: readonly Finding[];
  readonly situation: Situation;
  readonly treated: readonly TreatedFault[];
  readonly options: DecideOptions;
  readonly asked: ReadonlySet<string>;
};

/** The likeliest fault, its chance, and whether its proof has been seen. */
export type Lead = { readonly fault: number; readonly chance: number; readonly isProved: boolean };

/** The fault that leads in a case. */
export function leadOf({ model, belief, findings, situation }: Case): Lead {
  let fault = 0;
  for (let other = 1; other < belief.present.length; other += 1) {
    if (belief.present[other]! > belief.present[fault]!) fault = other;
  }
  return { fault, chance: belief.present[fault]!, isProved: isProved(model, fault, findings, situation) };
}

/** The treatment of the leading fault, or the bench where something stands against it. */
export function treatOrHandOver({ model, situation, treated }: Case, { fault }: Lead): Verdict {
  const { id } = model.hypotheses.faults[fault]!;
  const obstacle = obstacleTo(model, fault, situation, treated);
  if (obstacle !== null) return { kind: 'bench', fault: id, reason: obstacle };
  const { procedure, direction } = treatmentOf(model, fault)!;
  return { kind: 'treat', fault: id, procedure, direction: direction ?? null };
}

/** A proof that has not been asked for yet and that this person can get. */
export function openProof({ model, situation, asked, options, belief }: Case, fault: number): Proof | null {
  const open = proofsOf(model, fault).find(({ position }) => {
    const check = model.checks[position]!;
    if (options.groups !== undefined && !options.groups.includes(check.group)) return false;
    return !asked.has(check.id) && canDo(check, situation) && belief.notes.get(position) === undefined;
  });
  return open ?? null;
}

/** The question for a proof of a fault; null when none is open. @param fault its number. */
export function confirmVerdict(the: Case, fault: number): Verdict | null {
  const proof = openProof(the, fault);
  if (proof === null) return null;
  return {
    kind: 'confirm',
    fault: the.model.hypotheses.faults[fault]!.id,
    check: the.model.checks[proof.position]!.id,
  };
}

/**
 * Checks asked one by one so far, what goes on the instrument not counted; within a scope only those of its groups. Notes
 * count where the caller has counted: the findings do not say which of them came from a page of notes.
 */
export function countChecks({ model, findings, options: { groups, askedSingly } }: Case): number {
  if (groups === undefined && askedSingly !== undefined) return askedSingly;
  return findings.filter((finding) => {
    const { kind, group } = model.check(checkOf(model, finding));
    return groups === undefined ? kind !== 'play' && group !== 'set-up' : groups.includes(group);
  }).length;
}

/** Chance that whatever is wrong is not for this person here. */
export function benchMass({ model, belief, situation, treated }: Case): number {
  const classes = actionClasses(model, situation, treated);
  const { first, second, count } = model.hypotheses;
  let sum = belief.mass[SOMETHING_ELSE]!;
  for (let hypothesis = SOMETHING_ELSE + 1; hypothesis < count; hypothesis += 1) {
    const mass = belief.mass[hypothesis]!;
    if (mass > 0 && classOf(classes, first[hypothesis]!, second[hypothesis]!) === BENCH_CLASS) sum += mass;
  }
  return sum;
}
