/** What to do when nothing more is to be learnt by asking. */
import { cheapestOrder, thresholdsOf } from './decision.ts';
import { HEALTHY } from './hypotheses.ts';
import { costOf } from './ranking.ts';
import { obstacleTo, proofsOf, treatmentOf } from './treatment.ts';
import {
  benchMass,
  type Case,
  confirmVerdict,
  countChecks,
  type Lead,
  openProof,
  treatOrHandOver,
  type Verdict,
} from './verdict-case.ts';

/**
 * Nothing more to learn by asking: treat a proved fault if that can do no harm and still pays, prove in the cheapest order what could be
 * treated and is likely enough to be worth its proof, and hand over what is left.
 */
export function lastResort(the: Case, lead: Lead): Verdict {
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
