/** Makes the four files of an instrument that is told by what differs from another one. */
import { type FingeringEntry, type MechanismFile, partsOfTube } from '../mechanism/index.ts';
import type { ContentProblem } from './content-error.ts';
import type { InstrumentFiles } from './documents.ts';
import type { VariantFile } from './variant-schema.ts';
import { writeHigher } from './written-notes.ts';

type Step = string | number;
type Report = (path: readonly Step[], message: string) => void;

const sorts = ['vents', 'touches', 'keys', 'links', 'joints', 'bores', 'causes'] as const;

/**
 * The files of a variant. What is taken away takes along what cannot be without it: motions over a missing part, the
 * fingerings that need a missing touch, the frequencies of faults at it and its place in the picture. Whether the result
 * hangs together is for the same checks to say as for any instrument.
 *
 * @param told the files of the instrument that the variant is told from
 * @returns the files, not yet put through their schemas; every mistake in the variant's own file leaves a problem
 */
export function makeVariant(
  told: InstrumentFiles,
  variant: VariantFile,
  file: string,
): { files: Record<keyof InstrumentFiles, unknown>; problems: ContentProblem[] } {
  const problems: ContentProblem[] = [];
  const base = variant.written === undefined ? told : writeHigher(told, variant.written);
  const report: Report = (path, message) => problems.push({ file, path, message });
  const gone = new Set(variant.without ?? []);
  const known = idsOf(base);
  for (const [at, id] of (variant.without ?? []).entries())
    if (!known.has(id))
      report(['without', at], `names "${id}", which ${variant.variantOf} has not; check the spelling`);
  for (const id of Object.keys(variant.change ?? {}))
    if (!known.has(id) || gone.has(id))
      report(['change', id], `changes "${id}", which ${variant.variantOf} has not, or which is taken away`);
  const mechanism = varyMechanism(base['mechanism.yaml'], variant, gone, report);
  return {
    files: {
      'mechanism.yaml': mechanism,
      'fingerings.yaml': varyFingerings(base['fingerings.yaml'], variant, gone, report),
      'frequencies.yaml': varyFrequencies(base['frequencies.yaml'], variant, gone),
      'layout.yaml': varyLayout(base['layout.yaml'], variant, gone),
    },
    problems,
  };
}

function idsOf(base: InstrumentFiles): Set<string> {
  const mechanism = base['mechanism.yaml'];
  const parts = sorts.flatMap((sort) => mechanism[sort].map(({ id }) => id));
  const ofTube = partsOfTube(mechanism.tube).map(({ id }) => id);
  return new Set([...parts, ...ofTube, ...base['fingerings.yaml'].fingerings.map(({ id }) => id)]);
}

function varyMechanism(
  base: MechanismFile,
  variant: VariantFile,
  gone: ReadonlySet<string>,
  report: Report,
): unknown {
  const { add } = variant;
  const kept = <T extends { id: string }>(parts: readonly T[]) => keepAndChange(parts, variant, gone);
  return {
    // What tells the other instrument from its sisters does not tell this one from them.
    instrument: { ...base.instrument, lookFor: undefined, ...variant.instrument },
    ...(base.tube === undefined ? {} : { tube: varyTube(base.tube, variant, kept) }),
    vents: insertVents(kept(base.vents), add?.vents ?? [], report),
    touches: [...kept(base.touches).map((part) => withoutMotions(part, gone)), ...(add?.touches ?? [])],
    keys: [...kept(base.keys).map((part) => withoutMotions(part, gone)), ...(add?.keys ?? [])],
    links: [...kept(base.links).map((link) => withoutLookAlike(link, gone)), ...(add?.links ?? [])],
    joints: [...kept(base.joints), ...(add?.joints ?? [])],
    bores: [...kept(base.bores).map((bore) => afterKept(bore, base.vents, gone)), ...(add?.bores ?? [])],
    causes: [...kept(base.causes), ...(add?.causes ?? [])],
  };
}

type Kept = <T extends { id: string }>(parts: readonly T[]) => T[];

function varyTube(base: NonNullable<MechanismFile['tube']>, { add }: VariantFile, kept: Kept) {
  return {
    ...base,
    valves: [...kept(base.valves), ...(add?.valves ?? [])],
    slides: [...kept(base.slides), ...(add?.slides ?? [])],
    waterKeys: [...kept(base.waterKeys), ...(add?.waterKeys ?? [])],
  };
}

/** The parts that stay, each with the fields that differ. */
function keepAndChange<T extends { id: string }>(
  parts: readonly T[],
  { change }: VariantFile,
  gone: ReadonlySet<string>,
): T[] {
  return parts
    .filter(({ id }) => !gone.has(id))
    .map((part) => (change?.[part.id] === undefined ? part : { ...part, ...change[part.id] }));
}

function withoutMotions<T extends MechanismFile['touches'][number] | MechanismFile['keys'][number]>(
  part: T,
  gone: ReadonlySet<string>,
): T {
  const stays = part.moves.filter(
    ({ part: moved, link, when }) =>
      ![moved, link, when?.link].some((id) => id !== undefined && gone.has(id)),
  );
  return { ...part, moves: stays };
}

/** A stretch that lay after a vent which is taken away lies after the one before it. */
function afterKept(
  bore: MechanismFile['bores'][number],
  vents: MechanismFile['vents'],
  gone: ReadonlySet<string>,
): MechanismFile['bores'][number] {
  if (bore.after === undefined || !gone.has(bore.after)) return bore;
  const above = vents.slice(
    0,
    vents.findIndex(({ id }) => id === bore.after),
  );
  const after = above.findLast(({ id }) => !gone.has(id))?.id;
  return { ...bore, after };
}

function withoutLookAlike(link: MechanismFile['links'][number], gone: ReadonlySet<string>) {
  const { lookAlike, ...adjuster } = link.adjuster;
  const drivenBy = link.drivenBy?.filter((id) => !gone.has(id));
  return {
    ...link,
    ...(drivenBy === undefined ? {} : { drivenBy }),
    adjuster: lookAlike === undefined || gone.has(lookAlike) ? adjuster : link.adjuster,
  };
}

function insertVents(
  vents: MechanismFile['vents'],
  added: NonNullable<NonNullable<VariantFile['add']>['vents']>,
  report: Report,
): MechanismFile['vents'] {
  const order = [...vents];
  for (const [at, place] of added.entries()) {
    const neighbour = 'before' in place ? place.before : place.after;
    const found = order.findIndex(({ id }) => id === neighbour);
    if (found === -1)
      report(
        ['add', 'vents', at],
        `lies beside "${neighbour}", which this instrument has not; name a cup that it has`,
      );
    else order.splice('before' in place ? found : found + 1, 0, place.vent);
  }
  return order;
}

function varyFingerings(
  base: InstrumentFiles['fingerings.yaml'],
  variant: VariantFile,
  gone: ReadonlySet<string>,
  report: Report,
): unknown {
  const canBePlayed = ({ touches }: FingeringEntry) => touches.every((touch) => !gone.has(touch));
  const kept = keepAndChange(base.fingerings, variant, gone).filter(canBePlayed);
  const added = variant.add?.fingerings ?? [];
  const ids = new Set(kept.map(({ id }) => id));
  const order = base.playTest.order.filter((id) => ids.has(id));
  for (const [at, { playAfter, fingering }] of added.entries()) {
    if (playAfter === undefined) continue;
    const found = order.indexOf(playAfter);
    if (found === -1)
      report(['add', 'fingerings', at, 'playAfter'], `names "${playAfter}", which is not in the play test`);
    else order.splice(found + 1, 0, fingering.id);
  }
  return {
    fingerings: [...kept, ...added.map(({ fingering }) => fingering)],
    playTest: variant.playTest ?? { order, source: base.playTest.source },
  };
}

function varyFrequencies(
  base: InstrumentFiles['frequencies.yaml'],
  { frequencies = {} }: VariantFile,
  gone: ReadonlySet<string>,
): unknown {
  const { groups = [], ...figures } = frequencies;
  const replaced = new Map(groups.map((group) => [group.name, group]));
  const kept = base.groups.flatMap((group) => {
    const other = replaced.get(group.name);
    if (other !== undefined) return [other];
    const spread = group.spread
      .map((share) => ({ ...share, places: share.places.filter((place) => !gone.has(place)) }))
      .filter(({ places }) => places.length > 0);
    return spread.length === 0 ? [] : [{ ...group, spread }];
  });
  const names = new Set(base.groups.map(({ name }) => name));
  return { ...base, ...figures, groups: [...kept, ...groups.filter(({ name }) => !names.has(name))] };
}

function varyLayout(
  base: InstrumentFiles['layout.yaml'],
  { instrument, layout = {} }: VariantFile,
  gone: ReadonlySet<string>,
): unknown {
  const places = <T>(own: Record<string, T>, other: Record<string, T> | undefined) =>
    Object.fromEntries(Object.entries({ ...own, ...other }).filter(([id]) => !gone.has(id)));
  return {
    ...base,
    ...layout,
    instrument: instrument.id,
    ...(base.tube === undefined ? {} : { tube: varyTubeLayout(base.tube, layout.tube, places) }),
    vents: places(base.vents, layout.vents),
    touches: places(base.touches, layout.touches),
    keys: places(base.keys, layout.keys),
    links: places(base.links, layout.links),
    joints: places(base.joints, layout.joints),
    bores: places(base.bores, layout.bores),
    ...(base.causes && { causes: places(base.causes, layout.causes) }),
  };
}

type TubeLayout = NonNullable<InstrumentFiles['layout.yaml']['tube']>;
type Places = <T>(own: Record<string, T>, other: Record<string, T> | undefined) => Record<string, T>;

function varyTubeLayout(base: TubeLayout, other: TubeLayout | undefined, places: Places): TubeLayout {
  return {
    valves: places(base.valves, other?.valves),
    slides: places(base.slides, other?.slides),
    waterKeys: places(base.waterKeys, other?.waterKeys),
  };
}
