/** What to do now: ask, prove, treat, hand over, or leave it alone. */
import { type Belief, withTreated } from './belief.ts';
import { cheapestOrder, thresholdsOf } from './decision.ts';
import { checkOf } from './finding.ts';
import { HEALTHY, SOMETHING_ELSE } from './hypotheses.ts';
import type { DiagnosisModel } from './model.ts';
import { conflictNats } from './probability.ts';
import { costOf, type RankedCheck, type RankingCache, rankedFrom, type Scope } from './ranking.ts';
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
type Case = {
  readonly model: DiagnosisModel;
  readonly belief: Belief;
  readonly findings: readonly Finding[];
  readonly situation: Situation;
  readonly treated: readonly TreatedFault[];
  readonly options: DecideOptions;
  readonly asked: ReadonlySet<string>;
};

/**
 * Decides what to do now. In this order: hand over when the answers fit nothing; say that it is well; treat or hand over a
 * fault that is likely enough and proved; prove the likeliest; ask what tells most about what to do, per cost; prove what
 * could still be treated; hand over.
 * @param findings everything observed that still counts, "could not tell" included: no check of it is asked again.
 * @throws RangeError for an unknown note, fingering, check or answer.
 */
export function decide(
  model: DiagnosisModel,
  belief: Belief,
  findings: readonly Finding[],
  situation: Situation,
  treated: readonly TreatedFault[],
  options: DecideOptions = {},
): Verdict {
  const asked = new Set(findings.map((finding) => checkOf(model, finding)));
  const the: Case = {
    model,
    belief: withTreated(model, belief, treated),
    findings,
    situation,
    treated,
    options,
    asked,
  };
  const lead = leadOf(the);
  return (
    misfit(the) ??
    wellVerdict(the) ??
    provedVerdict(the, lead) ??
    provingVerdict(the, lead) ??
    askingVerdict(the, lead) ??
    lastResort(the, lead)
  );
}

/** The likeliest fault, its chance, and whether its proof has been seen. */
type Lead = { readonly fault: number; readonly chance: number; readonly isProved: boolean };

function leadOf({ model, belief, findings, situation }: Case): Lead {
  let fault = 0;
  for (let other = 1; other < belief.present.length; other += 1) {
    if (belief.present[other]! > belief.present[fault]!) fault = other;
  }
  return { fault, chance: belief.present[fault]!, isProved: isProved(model, fault, findings, situation) };
}

function misfit({ model, belief }: Case): Verdict | null {
  const { rules } = model.knowledge.people;
  if (belief.mass[SOMETHING_ELSE]! >= rules.elseAt.value)
    return { kind: 'bench', fault: null, reason: 'something-else' };
  const conflict = conflictNats([belief.logSingles], belief.logEvidence);
  return conflict >= rules.misfitNats.value
    ? { kind: 'bench', fault: null, reason: 'answers-do-not-fit' }
    : null;
}

/** Well: enough notes played, all of them spoke, and hardly anything is left that they could have missed. */
function wellVerdict({ model, belief }: Case): Verdict | null {
  const { healthyNotes, soundAt } = model.knowledge.people.rules;
  const answers = [...belief.notes.values()];
  if (answers.length < healthyNotes.value || answers.some((answer) => answer !== 0)) return null;
  return belief.mass[HEALTHY]! >= soundAt.value ? { kind: 'healthy' } : null;
}

/**
 * Whether calling it well is expected to cost less than the bench: a fault that is missed, against a good instrument sent in.
 * A fault with which every note speaks costs less when it is missed than one that has been heard.
 */
function isCheaperCalledWell({ model, belief }: Case): boolean {
  const { healthyNotes, missedMinutes, hiddenMinutes, needlessMinutes } = model.knowledge.people.rules;
  if (belief.notes.size < healthyNotes.value) return false;
  const hasFailed = [...belief.notes.values()].some((answer) => answer !== 0);
  const well = belief.mass[HEALTHY]!;
  return (1 - well) * (hasFailed ? missedMinutes : hiddenMinutes).value <= well * needlessMinutes.value;
}

function provedVerdict(the: Case, lead: Lead): Verdict | null {
  if (!lead.isProved || lead.chance < enoughFor(the, lead.fault)) return null;
  return treatOrHandOver(the, lead);
}

/** The chance from which a proved fault is treated. */
function enoughFor({ model }: Case, fault: number): number {
  const { actAt, tryAt } = model.knowledge.people.rules;
  return treatmentOf(model, fault)?.adjusts === false ? tryAt.value : actAt.value;
}

function treatOrHandOver({ model, situation, treated }: Case, { fault }: Lead): Verdict {
  const { id } = model.hypotheses.faults[fault]!;
  const obstacle = obstacleTo(model, fault, situation, treated);
  if (obstacle !== null) return { kind: 'bench', fault: id, reason: obstacle };
  const { procedure, direction } = treatmentOf(model, fault)!;
  return { kind: 'treat', fault: id, procedure, direction: direction ?? null };
}

/** A proof that has not been asked for yet and that this person can get. */
function openProof({ model, situation, asked, options, belief }: Case, fault: number): Proof | null {
  const open = proofsOf(model, fault).find(({ position }) => {
    const check = model.checks[position]!;
    if (options.groups !== undefined && !options.groups.includes(check.group)) return false;
    return !asked.has(check.id) && canDo(check, situation) && belief.notes.get(position) === undefined;
  });
  return open ?? null;
}

function provingVerdict(the: Case, lead: Lead): Verdict | null {
  if (lead.isProved || lead.chance < the.model.knowledge.people.rules.confirmAt.value) return null;
  return confirmVerdict(the, lead.fault);
}

function confirmVerdict(the: Case, fault: number): Verdict | null {
  const proof = openProof(the, fault);
  if (proof === null) return null;
  return {
    kind: 'confirm',
    fault: the.model.hypotheses.faults[fault]!.id,
    check: the.model.checks[proof.position]!.id,
  };
}

/** The best check, unless enough has been asked or nothing that is left to learn would matter. */
function askingVerdict(the: Case, lead: Lead): Verdict | null {
  const { model, belief, situation, treated, options, asked } = the;
  const { rules } = model.knowledge.people;
  const isScoped = options.groups !== undefined;
  const limit = isScoped ? rules.mostSetUpChecks.value : rules.mostChecks.value;
  if (countChecks(the) >= limit) return null;
  const ranked = rankedFrom(options.cache, model, belief, {
    situation,
    asked,
    treated,
    scope: scopeOf(options),
  });
  const best = ranked.find(({ actionBits }) => actionBits >= rules.leastBits.value) ?? ranked[0];
  if (best === undefined || (!isScoped && isOnlyForTheTicket(the, best))) return null;
  const proof = openProof(the, lead.fault);
  const isProof = proof !== null && model.checks[proof.position]!.id === best.check;
  return isProof
    ? { kind: 'confirm', fault: model.hypotheses.faults[lead.fault]!.id, check: best.check }
    : { kind: 'check', check: best.check };
}

function scopeOf({ groups }: DecideOptions): Scope {
  return groups === undefined ? {} : { groups };
}

/**
 * Checks asked one by one so far, what goes on the instrument not counted; within a scope only those of its groups. Notes
 * count where the caller has counted: the findings do not say which of them came from a page of notes.
 */
function countChecks({ model, findings, options: { groups, askedSingly } }: Case): number {
  if (groups === undefined && askedSingly !== undefined) return askedSingly;
  return findings.filter((finding) => {
    const { kind, group } = model.check(checkOf(model, finding));
    return groups === undefined ? kind !== 'play' && group !== 'set-up' : groups.includes(group);
  }).length;
}

/** Nine in ten it is bench work, and the best check would tell the bench little more. */
function isOnlyForTheTicket(the: Case, best: RankedCheck): boolean {
  const { rules } = the.model.knowledge.people;
  return benchMass(the) >= rules.benchAt.value && best.bits < rules.benchBits.value * rules.faultShare.value;
}

/** Chance that whatever is wrong is not for this person here. */
function benchMass({ model, belief, situation, treated }: Case): number {
  const classes = actionClasses(model, situation, treated);
  const { first, second, count } = model.hypotheses;
  let sum = belief.mass[SOMETHING_ELSE]!;
  for (let hypothesis = SOMETHING_ELSE + 1; hypothesis < count; hypothesis += 1) {
    const mass = belief.mass[hypothesis]!;
    if (mass > 0 && classOf(classes, first[hypothesis]!, second[hypothesis]!) === BENCH_CLASS) sum += mass;
  }
  return sum;
}

/**
 * Nothing more to learn by asking: treat a proved fault if that can do no harm and still pays, prove in the cheapest order what could be
 * treated and is likely enough to be worth its proof, and hand over what is left.
 */
function lastResort(the: Case, lead: Lead): Verdict {
  const { model, belief, situation, treated, options } = the;
  if (options.groups === undefined) {
    if (lead.isProved && treatmentOf(model, lead.fault)?.adjusts === false) {
      if (lead.chance >= testAndTreat(the, lead.fault).noTest) return treatOrHandOver(the, lead);
    }
    const worth = [...belief.present.keys()].filter(
      (fault) =>
        belief.present[fault]! >= testAndTreat(the, fault).test &&
        obstacleTo(model, fault, situation, treated) === null &&
        openProof(the, fault) !== null,
    );
    const steps = worth.map((fault) => ({
      probability: belief.present[fault]!,
      check: costOf(model, model.checks[openProof(the, fault)!.position]!, situation),
    }));
    const next = worth[cheapestOrder(steps)[0] ?? -1];
    const proving =
      next === undefined || countChecks(the) >= model.knowledge.people.rules.mostChecks.value
        ? null
        : confirmVerdict(the, next);
    if (proving !== null) return proving;
  }
  return handOver(the, lead);
}

/** Chances between which proving a fault pays, from what a right and a wrong treatment cost, in minutes. */
function testAndTreat({ model, situation }: Case, fault: number): { test: number; noTest: number } {
  const { people } = model.knowledge;
  const check = model.checks[proofsOf(model, fault)[0]!.position]!;
  const { sense } = model.predictions(model.positionOf(check.id)).planned;
  const { falseYes, seen } = people.senses[sense]!;
  return thresholdsOf({
    benefit: people.rules.rightTreatmentMinutes.value,
    harm: treatmentOf(model, fault)?.harmMinutes ?? people.rules.rightTreatmentMinutes.value,
    sensitivity: seen.moderate,
    specificity: 1 - falseYes,
    testCost: costOf(model, check, situation) / 60,
  });
}

function handOver(the: Case, lead: Lead): Verdict {
  const { model, situation, treated } = the;
  const { namedAt, benchAt } = model.knowledge.people.rules;
  if (isCheaperCalledWell(the)) return { kind: 'healthy' };
  const fault = lead.chance >= namedAt.value ? model.hypotheses.faults[lead.fault]!.id : null;
  const obstacle = obstacleTo(model, lead.fault, situation, treated);
  if (fault !== null && obstacle !== null) return { kind: 'bench', fault, reason: obstacle };
  if (fault !== null && !lead.isProved) return { kind: 'bench', fault, reason: 'not-provable-here' };
  return {
    kind: 'bench',
    fault,
    reason: benchMass(the) >= benchAt.value ? 'nothing-to-treat' : 'checks-ran-out',
  };
}
