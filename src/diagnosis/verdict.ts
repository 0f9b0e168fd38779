/** What to do now: ask, prove, treat, hand over, or leave it alone. */
import { addFinding, type Belief, withTreated } from './belief.ts';
import { answerAsFinding, checkOf } from './finding.ts';
import { HEALTHY, SOMETHING_ELSE } from './hypotheses.ts';
import { lastResort } from './last-resort.ts';
import { contradicts } from './misfit.ts';
import type { DiagnosisModel } from './model.ts';
import { type RankedCheck, rankedFrom, type Scope, toolsInHand } from './ranking.ts';
import type { Finding, Situation, TreatedFault } from './schema.ts';
import { treatmentOf } from './treatment.ts';
import {
  benchMass,
  type Case,
  confirmVerdict,
  countChecks,
  type DecideOptions,
  type Lead,
  leadOf,
  openProof,
  treatOrHandOver,
  type Verdict,
} from './verdict-case.ts';

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

function misfit({ model, belief }: Case): Verdict | null {
  const { rules } = model.knowledge.people;
  if (belief.mass[SOMETHING_ELSE]! >= rules.elseAt.value)
    return { kind: 'bench', fault: null, reason: 'something-else' };
  return contradicts(model, belief) ? { kind: 'bench', fault: null, reason: 'answers-do-not-fit' } : null;
}

/** Well: enough notes played, all of them spoke, and hardly anything is left that they could have missed. */
function wellVerdict({ model, belief }: Case): Verdict | null {
  const { healthyNotes, soundAt } = model.knowledge.people.rules;
  const answers = [...belief.notes.values()];
  if (answers.length < healthyNotes.value || answers.some((answer) => answer !== 0)) return null;
  return belief.mass[HEALTHY]! >= soundAt.value ? { kind: 'healthy' } : null;
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

function provingVerdict(the: Case, lead: Lead): Verdict | null {
  if (lead.isProved || lead.chance < the.model.knowledge.people.rules.confirmAt.value) return null;
  return confirmVerdict(the, lead.fault);
}

/** The best check that is not asked idly, unless enough has been asked or nothing that is left to learn would matter. */
function askingVerdict(the: Case, lead: Lead): Verdict | null {
  const { model, options } = the;
  const isScoped = options.groups !== undefined;
  const open = worthAsking(the);
  const isRunningOut = open.length < LOOKED_AT;
  const next = open.find(({ check }) => isScoped || !isIdle(the, check, isRunningOut));
  if (next === undefined) return null;
  const proof = openProof(the, lead.fault);
  const isProof = proof !== null && model.checks[proof.position]!.id === next.check;
  return isProof
    ? { kind: 'confirm', fault: model.hypotheses.faults[lead.fault]!.id, check: next.check }
    : { kind: 'check', check: next.check };
}

/** So many checks are looked at for one that is not asked idly; figure of ours. */
const LOOKED_AT = 6;

/** The checks that it still pays to ask for, best first; none when enough has been asked. */
function worthAsking(the: Case): readonly RankedCheck[] {
  const { model, belief, findings, situation, treated, options, asked } = the;
  const { rules } = model.knowledge.people;
  const isScoped = options.groups !== undefined;
  if (hasAskedEnough(the)) return [];
  const ranked = rankedFrom(options.cache, model, belief, {
    situation,
    asked,
    treated,
    scope: { ...scopeOf(options), inHand: toolsInHand(model, findings) },
  });
  const best = ranked.find(({ actionBits }) => actionBits >= rules.leastBits.value) ?? ranked[0];
  if (best === undefined || (!isScoped && isOnlyForTheTicket(the, best))) return [];
  return [best, ...ranked.filter((other) => other !== best).slice(0, LOOKED_AT - 1)];
}

function hasAskedEnough(the: Case): boolean {
  const { mostSetUpChecks, mostChecks } = the.model.knowledge.people.rules;
  return countChecks(the) >= (the.options.groups === undefined ? mostChecks : mostSetUpChecks).value;
}

/** Whether a question is asked for nothing: every answer to it ends the asking, and in the same way. */
function isIdle(the: Case, id: string, isRunningOut: boolean): boolean {
  let end: string | null = null;
  const check = the.model.check(id);
  for (const answer of check.answers) {
    const finding = answerAsFinding(the.model, check, answer.id);
    const next = endAfter(the, finding, isRunningOut);
    if (next === null) return false;
    const told = JSON.stringify(next);
    if (end !== null && told !== end) return false;
    end = told;
  }
  return true;
}

/** How the asking ends if this is found; null where it goes on. */
function endAfter(before: Case, finding: Finding, isRunningOut: boolean): Verdict | null {
  const { model, situation, options } = before;
  const check = model.check(checkOf(model, finding));
  const counts = check.group === 'set-up' ? 0 : 1;
  const the: Case = {
    ...before,
    belief: addFinding(model, before.belief, finding, situation.person),
    findings: [...before.findings, finding],
    asked: new Set([...before.asked, check.id]),
    options:
      options.askedSingly === undefined ? options : { ...options, askedSingly: options.askedSingly + counts },
  };
  const lead = leadOf(the);
  const end = misfit(the) ?? wellVerdict(the) ?? provedVerdict(the, lead);
  if (end !== null) return end;
  if (provingVerdict(the, lead) !== null) return null;
  // Where many questions are left, one answer does not leave none; a ranking would tell for certain, and takes long.
  const isBenchWork = benchMass(the) >= model.knowledge.people.rules.benchAt.value;
  const isOpen = !isBenchWork && !isRunningOut && !hasAskedEnough(the);
  if (isOpen || worthAsking(the).length > 0) return null;
  const last = lastResort(the, lead);
  return last.kind === 'confirm' ? null : last;
}

function scopeOf({ groups }: DecideOptions): Scope {
  return groups === undefined ? {} : { groups };
}

/** Nine in ten it is bench work, and the best check would tell the bench little more. */
function isOnlyForTheTicket(the: Case, best: RankedCheck): boolean {
  const { rules } = the.model.knowledge.people;
  return benchMass(the) >= rules.benchAt.value && best.bits < rules.benchBits.value * rules.faultShare.value;
}
