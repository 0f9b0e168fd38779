/** The choice of an instrument: by family, the families and their instruments in the order of a score. */
import type { Content, InstrumentContent } from '../content/index.ts';
import { type Instrument, midi } from '../mechanism/index.ts';
import { drawSilhouette } from '../picture/index.ts';
import type { FamilyChoice, InstrumentSummary } from '../web/library.ts';

/** The side of the square that a picture fills, in its own units. */
const square = 160;
/** The shortest instrument of a family fills at least this much of the square, or nobody could make it out. */
const smallest = 0.6;

/** All instruments in the order in which they are offered: families together, in each the highest-sounding first. */
export function listInstruments(content: Content): InstrumentSummary[] {
  const place = (family: string) => content.families.get(family)?.order ?? Number.POSITIVE_INFINITY;
  return [...content.instruments.values()]
    .map(({ instrument }) => instrument)
    .sort(
      (one, other) =>
        place(one.family) - place(other.family) ||
        one.family.localeCompare(other.family) ||
        lowestSounding(other) - lowestSounding(one) ||
        one.name.localeCompare(other.name),
    )
    .map(({ id, name, family, lookFor }) => ({
      id,
      name,
      family,
      familyName: content.families.get(family)?.name ?? family,
      lookFor,
    }));
}

/** The same by family, each instrument with a small picture. */
export function listFamilies(content: Content): FamilyChoice[] {
  return [...Map.groupBy(listInstruments(content), ({ family }) => family)].map(([id, members]) => {
    const entries = members.map((summary) => ({ summary, entry: content.instruments.get(summary.id)! }));
    const longest = Math.max(...entries.map(({ entry }) => lengthOf(entry)));
    return {
      id,
      name: content.families.get(id)?.name ?? id,
      lookFor: content.families.get(id)?.lookFor ?? '',
      instruments: entries.map(({ summary, entry }) => ({
        ...summary,
        picture: drawSilhouette(
          entry.layout,
          square,
          Math.max(smallest, Math.sqrt(lengthOf(entry) / longest)),
        ),
      })),
    };
  });
}

function lowestSounding({ range, transposition }: Instrument): number {
  return midi(range.lowest) + transposition.semitones;
}

/** How long its tube is beside that of another one: as the wavelengths of their lowest notes, without a unit. */
function lengthOf({ instrument }: InstrumentContent): number {
  return 2 ** (-lowestSounding(instrument) / 12);
}
