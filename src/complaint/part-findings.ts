/** What is said of a part, as findings at the parts that can be meant. */
import { addFinding, type CheckFinding, type DiagnosisModel, startBelief } from '../diagnosis/index.ts';
import type { Instrument, Part } from '../mechanism/index.ts';
import type { Named } from './items.ts';
import type { Shown } from './schema.ts';
import { ventsOfTouch } from './special-fingerings.ts';

export type PartFinding = {
  readonly part: Part;
  readonly finding: CheckFinding;
  /** The sentence for it, with a blank for the part. */
  readonly says: string;
  /** Chance that this part is the one that is meant; those of all candidates add up to 1. */
  readonly chance: number;
};

/**
 * The findings that a sign can mean: at the part called so, or where several could be meant at each of them, the likeliest
 * first. How likely: how often this sign is met there because something is wrong there.
 */
export function findingsOfSign(model: DiagnosisModel, named: Named, shown: Shown): PartFinding[] {
  const { exact, called, wider } = named.parts;
  const found =
    [exact, called, wider].map((parts) => checkable(model, parts, shown)).find(({ length }) => length > 0) ??
    [];
  const weighed = found.map((one) => ({ ...one, weight: weigh(model, one.finding, one.part.id) }));
  const sum = weighed.reduce((total, { weight }) => total + weight, 0);
  return weighed
    .map(({ part, finding, says, weight }) => ({
      part,
      finding,
      says,
      chance: sum === 0 ? 1 / weighed.length : weight / sum,
    }))
    .toSorted((one, other) => other.chance - one.chance);
}

function checkable(
  model: DiagnosisModel,
  parts: readonly Part[],
  { checks, says, isOpen = false }: Shown,
): Omit<PartFinding, 'chance'>[] {
  const places = [...new Set(parts.flatMap((part) => placesOf(model.instrument, part)))];
  return places.flatMap((place) => {
    const possible = checks.filter(({ check }) => model.hasCheck(`${check}@${place}`));
    return (isOpen ? possible : possible.slice(0, 1)).map((one) => ({
      part: model.instrument.part(place),
      finding: { check: `${one.check}@${place}`, saw: one.saw },
      says: one.says ?? says,
    }));
  });
}

/** A touch stands for the cups or the valves that it works. */
function placesOf(instrument: Instrument, { sort, id }: Part): string[] {
  if (sort !== 'touch') return [id];
  const valves = instrument.tube?.valvesOf.get(id)?.map((index) => instrument.tube!.valves[index]!.id);
  return valves ?? ventsOfTouch(instrument, id);
}

/** Said of several parts of one sort of which none is told apart: the finding of the check that looks at all of them. */
export function findingOfSeveral(
  model: DiagnosisModel,
  found: readonly PartFinding[],
  { several = [] }: Shown,
): Pick<PartFinding, 'finding' | 'says'> | null {
  const one = several.find(({ of }) => found.length > 1 && found.every(({ part }) => part.sort === of));
  const check = model.checks.find(({ kind }) => kind === one?.check);
  return one === undefined || check === undefined
    ? null
    : { finding: { check: check.id, saw: one.saw }, says: one.says };
}

/** P(this finding, and a fault at this place), before anything else is known. */
function weigh(model: DiagnosisModel, finding: CheckFinding, place: string): number {
  const belief = addFinding(model, startBelief(model), finding, 'director');
  let present = 0;
  for (const [number, fault] of model.hypotheses.faults.entries()) {
    if (fault.place === place) present += belief.present[number]!;
  }
  return Math.exp(belief.logEvidence) * present;
}
