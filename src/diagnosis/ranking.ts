/** Which check to ask for next: expected information about what to do, per cost, among the checks this person can do. */
import type { Belief } from './belief.ts';
import type { Check } from './check.ts';
import { COULD_NOT_TELL, checkOf } from './finding.ts';
import type { DiagnosisModel } from './model.ts';
import type { CheckKind, Finding, Situation, Tool, TreatedFault } from './schema.ts';
import { actionClasses, canDo } from './treatment.ts';
import { gatherLive, informationOf, type Live, mostBits } from './worth.ts';

/** A check with what it is expected to tell. */
export type RankedCheck = {
  readonly check: string;
  readonly title: string;
  /** Expected information about what to do, in bits, and a share of that about which fault it is. */
  readonly bits: number;
  /** Of these, the bits about what to do. */
  readonly actionBits: number;
  /** Seconds, everything counted. */
  readonly cost: number;
};

/** Restricts the choice to checks of these groups; tools that are in hand already cost nothing to fetch. */
export type Scope = { readonly groups?: readonly CheckKind['group'][]; readonly inHand?: readonly Tool[] };

/** Keeps rankings between calls; make one per model and let it be dropped with it. Purely a memory. */
export interface RankingCache {
  get(key: string): readonly RankedCheck[] | undefined;
  set(key: string, ranking: readonly RankedCheck[]): unknown;
}

/** A sign that only a fault below this chance would show tells less than a hundredth of a bit. */
const HARDLY = 5e-4;
/**
 * The checks worth asking for, best first. Left out: what has been asked, what this person or these tools cannot do, what
 * makes no sense after the notes played, and what tells next to nothing.
 * @param asked ids of checks already answered, "could not tell" included.
 */
export function nextChecks(
  model: DiagnosisModel,
  belief: Belief,
  situation: Situation,
  asked: ReadonlySet<string>,
  treated: readonly TreatedFault[] = [],
  { groups, inHand = [] }: Scope = {},
): RankedCheck[] {
  const live = gatherLive(model, belief, actionClasses(model, situation, treated));
  const candidates: Candidate[] = [];
  model.checks.forEach((check, position) => {
    if (asked.has(check.id) || (groups !== undefined && !groups.includes(check.group))) return;
    if (!canDo(check, situation) || !makesSense(model, belief, check, position)) return;
    if (isHardlySigned(model, belief, position)) return;
    const cost = costOf(model, check, situation, inHand);
    const most = mostBits(model, live, position, situation);
    if (most >= model.knowledge.people.rules.leastBits.value)
      candidates.push({ check, position, cost, most });
  });
  return rankCandidates(model, live, candidates, situation);
}

/** So many checks are ranked exactly; nobody reads further. */
const RANKED = 24;

/** A check and the most that it could tell. */
type Candidate = {
  readonly check: Check;
  readonly position: number;
  readonly cost: number;
  readonly most: number;
};

/** Reckons candidates exactly, most promising first, until no other can be among the best. */
function rankCandidates(
  model: DiagnosisModel,
  live: Live,
  candidates: Candidate[],
  situation: Situation,
): RankedCheck[] {
  const { rules } = model.knowledge.people;
  const rate = ({ bits, cost }: RankedCheck) => bits / cost;
  const ranked: RankedCheck[] = [];
  let bar = 0;
  for (const { check, position, cost, most } of candidates.sort(
    (one, other) => other.most / other.cost - one.most / one.cost,
  )) {
    if (most / cost < bar) break;
    const { actionBits, faultBits } = informationOf(model, live, position, situation);
    const bits = actionBits + rules.faultShare.value * faultBits;
    if (bits < rules.leastBits.value) continue;
    ranked.push({ check: check.id, title: check.title, bits, actionBits, cost });
    ranked.sort((one, other) => rate(other) - rate(one));
    if (ranked.length > RANKED) ranked.length = RANKED;
    if (ranked.length === RANKED) bar = rate(ranked[RANKED - 1]!);
  }
  return ranked;
}

/** The tools that the last check needed: whoever goes on with them need not fetch them. */
export function toolsInHand(model: DiagnosisModel, findings: readonly Finding[]): readonly Tool[] {
  const last = findings.at(-1);
  return last === undefined ? [] : model.check(checkOf(model, last)).tools;
}

/** Seconds that a check costs this person, the question, the tools to be fetched and the telephone counted. */
export function costOf(
  { knowledge: { people } }: DiagnosisModel,
  check: Check,
  { person }: Situation,
  inHand: readonly Tool[] = [],
): number {
  const extra = check.tools
    .filter((tool) => !inHand.includes(tool))
    .reduce((sum, tool) => sum + (people.costs.tools[tool] ?? 0), 0);
  return (people.costs.question + check.seconds + extra) * people.costs.persons[person];
}

/** "Does the note get better" can only be asked of a note that fails. */
function makesSense(model: DiagnosisModel, belief: Belief, { kind }: Check, position: number): boolean {
  if (kind === 'play') return !belief.notes.has(position);
  const { plan } = model.predictions(position).planned;
  if (plan.by !== 'squeezing' && plan.by !== 'pressing') return true;
  const answer = belief.notes.get(model.positionOf(`play@${plan.fingering.id}`));
  return answer !== undefined && answer > 0;
}

/** Whether no fault that would show in a check of signs is likely enough to be worth the look. */
function isHardlySigned(model: DiagnosisModel, { present }: Belief, position: number): boolean {
  const { plan } = model.predictions(position).planned;
  if (plan.by !== 'sign') return false;
  for (const fault of plan.shows.keys()) if (present[fault]! >= HARDLY) return false;
  return true;
}

/** A ranking from the cache, or reckoned and kept there. The key says everything that it depends on. */
export function rankedFrom(
  cache: RankingCache | undefined,
  model: DiagnosisModel,
  belief: Belief,
  question: {
    situation: Situation;
    asked: ReadonlySet<string>;
    treated: readonly TreatedFault[];
    scope: Scope;
  },
): readonly RankedCheck[] {
  const { situation, asked, treated, scope } = question;
  const reckon = () => nextChecks(model, belief, situation, asked, treated, scope);
  if (cache === undefined) return reckon();
  const key = JSON.stringify([
    [...belief.counted].sort(),
    [...asked].sort(),
    belief.person,
    { ...situation, tools: [...situation.tools].sort() },
    belief.treated,
    treated,
    scope.groups ?? COULD_NOT_TELL,
    [...(scope.inHand ?? [])].sort(),
  ]);
  const known = cache.get(key) ?? reckon();
  cache.set(key, known);
  return known;
}
