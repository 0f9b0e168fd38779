/** What answers are to be expected of this person now: the player may fall short, and what was said of a part may be worth nothing. */
import { midi } from '../mechanism/index.ts';
import type { Belief } from './belief.ts';
import { conditionChances, shortfalls } from './conditions.ts';
import type { DiagnosisModel } from './model.ts';
import type { Person } from './schema.ts';
import { nothingSaid, type Weight } from './weight.ts';

type Rows = readonly Float64Array[];

/** A shift of a chance by less than this does not change which check is best. */
const HARDLY = 0.005;

/** Chances of the answers to a check by code, for reckoning information, in the light of what this person said before. */
export function rowsNow(model: DiagnosisModel, belief: Belief, position: number, person: Person): Rows {
  const { planned } = model.predictions(position);
  if (planned.plan.by === 'note') return noteRowsNow(model, belief, position, person);
  const { place, group } = planned.check;
  const said = group === 'look' ? belief.looks.get(place) : undefined;
  const rows = model.rows(position, person);
  if (said === undefined) return rows;
  const before = model.knowledge.people.blur[person].checks;
  const now = misjudgedNow(belief, place, said);
  // The rows hold the share from before anything was said; what is missing to the share of now is mixed in.
  const more = (now - before) / (1 - before);
  if (more < HARDLY) return rows;
  return rows.map((row) => row.map((chance) => (1 - more) * chance + more / row.length));
}

function noteRowsNow(model: DiagnosisModel, belief: Belief, position: number, person: Person): Rows {
  const { plan } = model.predictions(position).planned;
  const fit = model.rows(position, person);
  if (plan.by !== 'note') return fit;
  const chances = belief.person === null ? conditionChances(model, person) : belief.conditions;
  const shares = { slight: 0, clear: 0 };
  shortfalls(model, midi(plan.fingering.note)).forEach(({ share, degree }, condition) => {
    shares[degree] += share * chances[condition]!;
  });
  const all = shares.slight + shares.clear;
  if (all < HARDLY) return fit;
  const slight = model.rows(position, person, 'slight');
  const clear = model.rows(position, person, 'clear');
  return fit.map((row, code) =>
    row.map(
      (chance, answer) =>
        (1 - all) * chance + shares.slight * slight[code]![answer]! + shares.clear * clear[code]![answer]!,
    ),
  );
}

const known = new WeakMap<Belief, Map<string, number>>();

/** Chance that what this person says of a part is worth nothing, after what has been said of it. */
function misjudgedNow(belief: Belief, place: string, said: readonly Weight[]): number {
  const shares = known.get(belief) ?? new Map<string, number>();
  known.set(belief, shares);
  const share = shares.get(place) ?? nothingSaid(said, belief.mass);
  shares.set(place, share);
  return share;
}
