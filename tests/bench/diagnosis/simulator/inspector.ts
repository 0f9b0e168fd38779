/** The person who looks, feels, tries and remembers: what is there against a threshold of the eye, and habits that stay. */

import type { PlannedCheck } from '../../../../src/diagnosis/check.ts';
import { COULD_NOT_TELL, type DiagnosisModel } from '../../../../src/diagnosis/index.ts';
import { type PlacedFault, type VentState, ventStates } from '../../../../src/mechanism/index.ts';
import { STRENGTH } from '../../../../src/mechanism/severity.ts';
import type { Case } from './case.ts';
import { disturbanceOf } from './player.ts';
import {
  CANNOT_TELL,
  CANNOT_TELL_ON_EDGE,
  GAIN,
  MEMORY,
  SENSES,
  SLIPS,
  TOLD_RIGHTLY,
  WEAR,
  WRONG_PART,
} from './rates.ts';

/** The strength of a cup that stands open. */
const OPEN = 2 * STRENGTH.gross;
/** How near the threshold, in doublings, somebody may not be able to tell. */
const EDGE = 0.25;

type Looking = {
  readonly the: Case;
  readonly model: DiagnosisModel;
  readonly planned: PlannedCheck;
  readonly faults: readonly PlacedFault[];
};

/**
 * What the person says to a check on an instrument with these faults: the id of an answer, or that they could not tell.
 * Asked twice, the same.
 * @param model the stock model that the question comes from; the maker's instrument answers.
 * @throws RangeError for an unknown check.
 */
export function answerCheck(
  the: Case,
  model: DiagnosisModel,
  id: string,
  faults: readonly PlacedFault[],
): string {
  const { planned } = model.predictions(model.positionOf(id));
  const {
    draws,
    situation: { person },
    weather,
  } = the;
  const { check } = planned;
  if (the.maker.without.includes(check.place)) return COULD_NOT_TELL;
  if (draws.chance(`check/${id}/cannot`, CANNOT_TELL[person] * weather.noise + weather.cannotTell))
    return COULD_NOT_TELL;
  if (draws.chance(`check/${id}/slip`, SLIPS[person] * weather.noise))
    return draws.pick(`check/${id}/slip/as`, check.answers).id;
  const looking: Looking = { the, model, planned, faults: misses(the, planned) ? [] : faults };
  const said = planned.plan.by === 'history' ? remember(looking) : judge(looking);
  return said === null ? COULD_NOT_TELL : check.answers[said]!.id;
}

/** Looks at another part than the one that is meant: whatever is wrong there is not seen, at any check of it. */
function misses({ draws, situation: { person }, weather }: Case, { check }: PlannedCheck): boolean {
  return (
    check.group === 'look' && draws.chance(`part/${check.place}/wrong`, WRONG_PART[person] * weather.noise)
  );
}

/** What there is to be seen: the position of the answer that it would be, and its size. */
type Sight = { readonly answer: number; readonly size: number };

function judge(looking: Looking): number | null {
  const { the, planned } = looking;
  const sight = planned.plan.by === 'pressing' || planned.plan.by === 'squeezing' ? null : sightOf(looking);
  const seen = sight === null ? gainOf(looking) : clearness(looking, sight);
  const { draws, weather } = the;
  const id = planned.check.id;
  if (seen === null) return null;
  if (Math.abs(seen) < EDGE && draws.chance(`check/${id}/edge`, CANNOT_TELL_ON_EDGE * weather.noise))
    return null;
  if (seen < 0) return planned.quiet;
  const answer = sight?.answer ?? planned.named[0]!;
  const isThere = sight === null || sight.size > 0;
  if (isThere && draws.chance(`check/${id}/told`, TOLD_RIGHTLY)) return answer;
  const others = planned.check.answers.flatMap((_, at) => (at === planned.quiet ? [] : [at]));
  return draws.pick(`check/${id}/told as`, others);
}

/** How far what is there lies above the threshold, in doublings of size, with the spreads of part and check. */
function clearness({ the, planned }: Looking, { size }: Sight): number {
  const {
    draws,
    weather,
    situation: { person },
  } = the;
  const { check, sense } = planned;
  const { halfSee, spread } = SENSES[sense] ?? SENSES.look!;
  const wear = WEAR.median * 2 ** draws.normal(`part/${check.place}/wear`, WEAR.spread);
  const half = (spread * weather.noise) / Math.SQRT2;
  return (
    Math.log2((size + wear) / halfSee) +
    draws.normal(`part/${check.place}/eye/${person}`, half) +
    draws.normal(`check/${check.id}/eye`, half)
  );
}

/** A note before and after a cup is pressed shut or the fingers squeeze; null when there was no bad note to begin with. */
function gainOf({ the, planned, faults }: Looking): number | null {
  const { plan, check } = planned;
  if (plan.by !== 'pressing' && plan.by !== 'squeezing') return null;
  const own = the.maker.instrument.fingerings.find(({ id }) => id === plan.fingering.id);
  if (own === undefined) return null;
  const before = disturbanceOf(the, own, faults);
  const left =
    plan.by === 'pressing'
      ? faults
      : faults.filter(({ fault, severity }) => !yields(the, fault.place, fault.kind, severity));
  const after = disturbanceOf(the, own, left, plan.by === 'pressing' ? [plan.vent] : []);
  const isRighted = before.sounded !== null && after.sounded === null;
  const gain = before.decibels - after.decibels + (isRighted ? 2 * GAIN.halfHear : 0);
  return (
    (gain - GAIN.halfHear) / GAIN.halfHear +
    the.draws.normal(`check/${check.id}/ear`, (GAIN.spread * the.weather.noise) / GAIN.halfHear)
  );
}

/** Hard fingers make up for a link that brings a cup down late and for a pad that fingers press, unless it is gross. */
function yields({ maker: { instrument } }: Case, place: string, kind: string, severity: string): boolean {
  if (severity === 'gross') return false;
  const link = instrument.links.find(({ id }) => id === place);
  if (link !== undefined)
    return (kind === 'slack' || kind === 'tight') && ['closes', 'holds', 'switches'].includes(link.action);
  const vent = instrument.vents.find(({ id }) => id === place);
  return kind === 'uncovered' || ((kind === 'leaks' || kind === 'bent') && vent?.rest === 'open');
}

/** What there is to be seen, from where the maker's mechanism stands. */
function sightOf(looking: Looking): Sight {
  const { planned, model } = looking;
  const { plan, quiet, named } = planned;
  const nothing: Sight = { answer: quiet, size: 0 };
  switch (plan.by) {
    case 'sealing':
      return { answer: named[0]!, size: gapOf(ventAt(looking, plan.touches, plan.vent, false)) };
    case 'stirring':
      return { answer: named[0]!, size: gapOf(ventAt(looking, plan.touches, plan.vent)) };
    case 'landing': {
      const own = gapOf(ventAt(looking, plan.touches, plan.own));
      const target = gapOf(ventAt(looking, plan.touches, plan.target));
      return { answer: named[target > own ? 0 : 1]!, size: Math.abs(target - own) };
    }
    case 'opening': {
      const vent = ventAt(looking, plan.touches, plan.vent);
      if (vent === undefined) return nothing;
      return vent.open
        ? { answer: named[0]!, size: vent.restricted * STRENGTH.gross }
        : { answer: named[1]!, size: OPEN };
    }
    case 'rising': {
      const vent = ventAt(looking, [], plan.vent);
      return {
        answer: named[0]!,
        size: vent === undefined ? 0 : vent.open ? vent.restricted * STRENGTH.gross : OPEN,
      };
    }
    case 'sign': {
      const shown = looking.faults.flatMap(({ fault, severity }) => {
        const number = model.hypotheses.faultNumber.get(fault.id);
        const answer = number === undefined ? undefined : plan.shows.get(number);
        return answer === undefined ? [] : [{ answer, size: STRENGTH[severity] }];
      });
      return shown.reduce((plainest, one) => (one.size > plainest.size ? one : plainest), nothing);
    }
    default:
      return nothing;
  }
}

/**
 * How the maker's cup stands that the stock description has at this place; undefined where it is missing.
 * @param byEye only what shows as a gap counts: a pad that seals badly looks like a good one.
 */
function ventAt(
  { the, model, faults }: Looking,
  touches: readonly string[],
  vent: number,
  byEye = true,
): VentState | undefined {
  const { instrument } = the.maker;
  const has = new Set(instrument.touches.map(({ id }) => id));
  const counted = byEye
    ? faults.filter(
        ({ fault }) => model.knowledge.faults.kinds.find(({ kind }) => kind === fault.kind)?.showsAsGap,
      )
    : faults;
  const states = ventStates(
    instrument,
    touches.filter((touch) => has.has(touch)),
    counted,
  );
  return states[instrument.vents.findIndex(({ id }) => id === model.instrument.vents[vent]!.id)];
}

const gapOf = (vent: VentState | undefined) => (vent === undefined ? 0 : vent.open ? OPEN : vent.leak);

/** What went before: whether it happened goes by checks.yaml, what is told of it by the person. */
function remember({ the, planned, model, faults }: Looking): number {
  const { plan, quiet, named, check } = planned;
  if (plan.by !== 'history') return quiet;
  const chances = faults.map(
    ({ fault }) => plan.chances[model.hypotheses.faultNumber.get(fault.id) ?? -1] ?? plan.otherwise,
  );
  const happened = the.draws.chance(`history/${check.kind}`, Math.max(plan.otherwise, ...chances));
  const told = the.draws.chance(`history/${check.kind}/told`, happened ? MEMORY.recalls : MEMORY.invents);
  return told ? named[0]! : quiet;
}
