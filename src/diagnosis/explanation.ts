/** The technician's reasoning, worked out from the data: what failed, what spoke, what only the failing ones share. */
import { type Fingering, partsOf, type SharedPart, sharedByFailing } from '../mechanism/index.ts';
import type { Belief } from './belief.ts';
import {
  bestForm,
  type CountedFinding,
  countedFindings,
  type WeighedFinding,
  WORTH_MENTIONING,
  weighAgainst,
  weighAgainstHealthy,
  wordsAgainst,
} from './evidence.ts';
import { type Explanation, standsOut, writeSentences } from './explanation-words.ts';
import { describeSuspect, faultNumberOf } from './fault-words.ts';
import { sayChance, sayFinding, sayList } from './finding-words.ts';
import { HEALTHY, SOMETHING_ELSE } from './hypotheses.ts';
import { contradicts } from './misfit.ts';
import type { DiagnosisModel } from './model.ts';
import type { Finding } from './schema.ts';
import { type Suspect, type Suspects, suspects } from './suspects.ts';
import { sayNote } from './wording.ts';

export type { Explanation };

/** So many reasons are named for a suspect, and against one. */
const REASONS = 3;
/** Suspects below this chance are not explained. */
const WORTH_NAMING = 0.01;
/** So many shared parts are named. */
const SHARED_PARTS = 3;

/**
 * Explains a belief. @param findings those that the belief was made from.
 * @throws RangeError for an unknown note, fingering, check or answer.
 */
export function explain(model: DiagnosisModel, belief: Belief, findings: readonly Finding[]): Explanation {
  const counted = countedFindings(model, findings);
  const { failed, spoke } = playedNotes(model, counted);
  const all = suspects(model, belief);
  const list = all.faults;
  const named = list.filter(({ probability }, index) => index === 0 || probability >= WORTH_NAMING);
  const because = new Map(named.map(({ fault }) => [fault, reasonsFor(model, belief, counted, fault)]));
  const first = counted.length === 0 ? undefined : list[0];
  const shared = sayShared(model, sharedByFailing(model.instrument, failed, spoke), first);
  const uses = shared === '' && first !== undefined ? sayUses(model, first, { failed, spoke }) : '';
  const against =
    first === undefined
      ? []
      : list.slice(1, 3).map((other) => argueAgainst(model, belief, counted, { first, other }));
  const lead =
    first === undefined
      ? null
      : {
          fault: first.fault,
          title: first.title,
          means: describeSuspect(model, first.fault).means,
          chance: sayChance(first.probability),
        };
  const say = (fingering: Fingering) => sayPlayed(model, fingering);
  const leads = counted.length === 0 ? null : leaderOf(all);
  const base = { failed: failed.map(say), spoke: spoke.map(say), shared, leads, lead, because, against };
  const sentences = writeSentences({
    ...base,
    uses,
    nearest: first === undefined ? null : nearestOf(model, belief, counted, { first, leads }),
    share: leads === 'nothing-wrong' ? all.healthy : all.somethingElse,
    isContradictory: contradicts(model, belief),
  });
  return { ...base, sentences };
}

function leaderOf({ faults, healthy, somethingElse }: Suspects): NonNullable<Explanation['leads']> {
  if (Math.max(healthy, somethingElse) < (faults[0]?.probability ?? 0)) return 'fault';
  return healthy >= somethingElse ? 'nothing-wrong' : 'something-else';
}

/** The likeliest fault where none leads or stands out, and what speaks against it as compared with what leads. */
function nearestOf(
  model: DiagnosisModel,
  belief: Belief,
  counted: readonly CountedFinding[],
  { first, leads }: { first: Suspect; leads: Explanation['leads'] },
) {
  if (leads === 'fault' && standsOut(first.probability)) return null;
  const one = leads === 'something-else' ? SOMETHING_ELSE : HEALTHY;
  const other = bestForm(model, belief, faultNumberOf(model, first.fault));
  const reasons = mentionable(weighAgainst(model, belief, counted, { one, other }));
  return {
    title: first.title,
    share: first.probability,
    against: reasons.map((weighed) => sayFinding(model, weighed)).join('; '),
  };
}

function playedNotes(
  model: DiagnosisModel,
  counted: readonly CountedFinding[],
): { failed: Fingering[]; spoke: Fingering[] } {
  const failed = new Map<string, Fingering>();
  const spoke = new Map<string, Fingering>();
  for (const { read } of counted) {
    const { plan } = model.predictions(read.position).planned;
    if (plan.by !== 'note') continue;
    (read.answer === 0 ? spoke : failed).set(plan.fingering.id, plan.fingering);
  }
  return { failed: [...failed.values()], spoke: [...spoke.values()].filter(({ id }) => !failed.has(id)) };
}

function sayPlayed({ instrument }: DiagnosisModel, fingering: Fingering): string {
  const said = sayNote(instrument, fingering.note);
  if (fingering.kind === 'standard') return said;
  return `${said}, ${fingering.name ?? 'another fingering'}`;
}

const RELATIONS: Readonly<Record<SharedPart['relation'], (name: string) => string>> = {
  presses: (name) => `press the ${name}`,
  works: (name) => `work the ${name}`,
  'depends-on': (name) => `depend on the link “${name}”`,
  'needs-closed': (name) => `need the ${name} to be closed`,
  'needs-open': (name) => `need the ${name} to be open`,
  'needs-down': (name) => `use the ${name}`,
  'needs-up': (name) => `leave the ${name} up`,
  passes: (name) => `go through the ${name}`,
};

/** The place of the lead first, if it is among them. */
function sayShared(
  { instrument }: DiagnosisModel,
  shared: readonly SharedPart[],
  lead: Suspect | undefined,
): string {
  const ordered = [...shared].sort(
    (one, other) => Number(other.part === lead?.place) - Number(one.part === lead?.place),
  );
  return sayList(
    ordered
      .slice(0, SHARED_PARTS)
      .map(({ part, relation }) => RELATIONS[relation](instrument.part(part).name)),
  );
}

/** How many of the failing and of the speaking notes use the suspected part; empty when it is no part that notes use. */
function sayUses(
  { instrument }: DiagnosisModel,
  { place }: Suspect,
  { failed, spoke }: { failed: readonly Fingering[]; spoke: readonly Fingering[] },
): string {
  const usesOf = (fingering: Fingering) =>
    partsOf(instrument, fingering).filter(({ part }) => part === place);
  const relation = failed.flatMap(usesOf)[0]?.relation;
  if (relation === undefined || failed.length < 2) return '';
  const count = (fingerings: readonly Fingering[]) =>
    fingerings.filter((fingering) => usesOf(fingering).some((use) => use.relation === relation)).length;
  const [failing, speaking] = [count(failed), count(spoke)];
  if (failing < 2) return '';
  const subject =
    failing < failed.length
      ? `${failing} of the ${failed.length} failing notes`
      : failing === 2
        ? 'Both failing notes'
        : `All ${failing} failing notes`;
  return `${subject} ${RELATIONS[relation](instrument.part(place).name)}${sayOthers(speaking, spoke.length)}.`;
}

/** The end of a sentence on what the failing notes do: how many of the speaking ones do it as well. */
function sayOthers(doing: number, all: number): string {
  if (all === 0) return '';
  if (doing === 0) return `; none of the ${all} that spoke does`;
  if (doing === all)
    return all === 1 ? ', and so does the one that spoke' : `, and so do all ${all} that spoke`;
  return `, and so ${doing === 1 ? 'does' : 'do'} ${doing} of the ${all} that spoke`;
}

function reasonsFor(
  model: DiagnosisModel,
  belief: Belief,
  counted: readonly CountedFinding[],
  fault: string,
): string[] {
  const form = bestForm(model, belief, faultNumberOf(model, fault));
  return mentionable(weighAgainstHealthy(model, belief, counted, form)).map((weighed) =>
    sayFinding(model, weighed),
  );
}

const mentionable = (weighed: readonly WeighedFinding[]) =>
  weighed.filter(({ ratio }) => ratio >= WORTH_MENTIONING).slice(0, REASONS);

function argueAgainst(
  model: DiagnosisModel,
  belief: Belief,
  counted: readonly CountedFinding[],
  { first, other }: { first: Suspect; other: Suspect },
): Explanation['against'][number] {
  const lead = faultNumberOf(model, first.fault);
  const forms = {
    one: bestForm(model, belief, lead),
    other: bestForm(model, belief, faultNumberOf(model, other.fault), lead),
  };
  const reasons = mentionable(weighAgainst(model, belief, counted, forms));
  const { fault, title } = other;
  const strongest = reasons[0];
  if (strongest === undefined)
    return { fault, title, because: 'nothing seen so far tells the two apart; it is only rarer' };
  const words = reasons.map((weighed) => sayFinding(model, weighed));
  return { fault, title, because: `${words.join('; ')}; that ${wordsAgainst(strongest.ratio)}` };
}
