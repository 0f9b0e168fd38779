import type { Instrument } from '../mechanism/index.ts';
import { alongBore } from './bore.ts';
import type { Point } from './geometry.ts';
import type { Place } from './place.ts';
import type { Layout } from './schema.ts';
import { tubeWhereWords } from './tube-words.ts';
import { fingerWords } from './words.ts';

/** Where a part is found, in words that follow its name: by its neighbours, its finger, or what it joins. */
export function whereWords(instrument: Instrument, layout: Layout, place: Place): string {
  if (instrument.tube !== null) return tubeWhereWords(instrument, instrument.part(place.id));
  const touch = instrument.touches.find((known) => known.id === place.id);
  if (touch) return `pressed by the ${fingerWords(touch)}`;
  const key = instrument.keys.find((known) => known.id === place.id);
  if (key) return `it works ${listParts(key.moves.map((motion) => instrument.part(motion.part).name))}`;
  if (layout.links[place.id]) {
    const { drivers, targets } = instrument.linkEnds(place.id);
    return `where ${listParts(drivers.map((part) => part.name))} works ${listParts(targets.map((part) => part.name))}`;
  }
  const bore = layout.bores[place.id];
  if (bore) return `the tube ${betweenWords(instrument, layout, place.id, bore.from, bore.to)}`;
  return betweenWords(instrument, layout, place.id, place.at, place.at);
}

/** Which cups come before and after a stretch of the bore. */
function betweenWords(instrument: Instrument, layout: Layout, id: string, from: Point, to: Point): string {
  const others = instrument.vents
    .filter((vent) => vent.id !== id)
    .map((vent) => ({ name: vent.name, along: alongBore(layout, layout.vents[vent.id]!.at) }));
  const before = others.findLast((other) => other.along <= alongBore(layout, from));
  const after = others.find((other) => other.along > alongBore(layout, to));
  if (before === undefined) return `at the end that is blown, above the ${after?.name ?? 'first cup'}`;
  if (after === undefined) return `at the far end, past the ${before.name}`;
  return `between the ${before.name} and the ${after.name}, counted along the tube`;
}

function listParts(names: readonly string[]): string {
  return [...new Set(names)].map((name) => `the ${name}`).join(' and ');
}
