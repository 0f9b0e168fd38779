import type { Instrument } from '../mechanism/index.ts';
import type { PlaceFilter } from './schema.ts';

/** The place of a check that is about the instrument as a whole. */
export const WHOLE_INSTRUMENT = 'instrument';

/** The ids of all places that one of the filters fits, in the instrument's order, each once. */
export function filterPlaces(instrument: Instrument, filters: readonly PlaceFilter[]): string[] {
  const ids = filters.flatMap((filter) =>
    candidates(instrument, filter).filter((id) => fitsPlace(instrument, filter, id)),
  );
  return [...new Set(ids)];
}

function candidates(instrument: Instrument, { part }: PlaceFilter): string[] {
  const sorts = {
    vent: instrument.vents,
    link: instrument.links,
    key: instrument.keys,
    joint: instrument.joints,
    bore: instrument.bores,
    cause: instrument.causes,
    valve: instrument.tube?.valves ?? [],
    slide: instrument.tube?.slides ?? [],
    'water-key': instrument.tube?.waterKeys ?? [],
    pair: instrument.tube?.pairs ?? [],
    fingering: instrument.fingerings,
    instrument: [{ id: WHOLE_INSTRUMENT }],
  };
  return sorts[part].map(({ id }) => id);
}

/** Whether a place fits a filter: every condition that the filter gives holds for it. */
export function fitsPlace(instrument: Instrument, filter: PlaceFilter, id: string): boolean {
  if (filter.families !== undefined && !filter.families.includes(instrument.family)) return false;
  if (!candidates(instrument, filter).includes(id)) return false;
  if (filter.ids !== undefined && !filter.ids.includes(id)) return false;
  if (filter.part === 'cause')
    return (
      filter.group === undefined ||
      instrument.causes.some((cause) => cause.id === id && cause.group === filter.group)
    );
  if (filter.part === 'vent') {
    const vent = instrument.vent(id);
    if (filter.rest !== undefined && filter.rest !== vent.rest) return false;
    if (filter.cover !== undefined && filter.cover !== (vent.cover ?? 'pad')) return false;
    if (filter.gathersWater !== undefined && filter.gathersWater !== (vent.gathersWater ?? false))
      return false;
    return filter.isRegisterVent === undefined || filter.isRegisterVent === (vent.registerVent !== undefined);
  }
  if (filter.part === 'link') {
    const link = instrument.link(id);
    if (filter.action !== undefined && !filter.action.includes(link.action)) return false;
    if (filter.adjuster !== undefined && !filter.adjuster.includes(link.adjuster.kind)) return false;
    return filter.work === undefined || filter.work === link.work;
  }
  if (filter.part === 'valve') {
    const valve = instrument.tube?.valves.find((one) => one.id === id);
    return filter.sort === undefined || filter.sort === valve?.sort;
  }
  if (filter.part === 'slide') {
    const slide = instrument.tube?.slides.find((one) => one.id === id);
    return filter.isPlayed === undefined || filter.isPlayed === (slide?.positions !== undefined);
  }
  return true;
}
