/** Fingerings that a part's own touch makes: the side key's B flat, the palm D, the notes of the octave key. */
import { type Fingering, type Instrument, midi, type Part } from '../mechanism/index.ts';

/**
 * The fingerings that use a touch which works one of these parts directly, standard ones if there are any.
 * @param pitchClass only those of this name (C = 0); null for all
 */
export function fingeringsOfParts(
  instrument: Instrument,
  parts: readonly Part[],
  pitchClass: number | null,
): Fingering[] {
  const touches = new Set(parts.flatMap((part) => touchesOfPart(instrument, part)));
  const using = instrument.fingerings.filter(
    ({ kind, note, touches: held }) =>
      kind !== 'test' &&
      (pitchClass === null || midi(note) % 12 === pitchClass) &&
      held.some((touch) => touches.has(touch)),
  );
  const standard = using.filter(({ kind }) => kind === 'standard');
  return (standard.length > 0 ? standard : using).toSorted((one, other) => midi(one.note) - midi(other.note));
}

/** The cups that a touch works without a link between, or through keys alone. */
export function ventsOfTouch(instrument: Instrument, touch: string): string[] {
  const links = new Set(instrument.links.map(({ id }) => id));
  const reached = instrument.vents.filter(({ id }) =>
    instrument
      .touchesOf(id)
      .some((reach) => reach.touch === touch && !reach.through.some((part) => links.has(part))),
  );
  const anyhow = instrument.vents.filter(({ id }) =>
    instrument.touchesOf(id).some((reach) => reach.touch === touch),
  );
  return (
    reached.length > 0 ? [...new Set([...reached, ...anyhow.filter(isOnlyFor(instrument, touch))])] : anyhow
  ).map(({ id }) => id);
}

function isOnlyFor(instrument: Instrument, touch: string) {
  return ({ id }: { id: string }) => instrument.touchesOf(id).every((reach) => reach.touch === touch);
}

function touchesOfPart(instrument: Instrument, part: Part): string[] {
  if (part.sort === 'touch') return [part.id];
  if (part.sort === 'valve')
    return instrument.touches
      .filter(({ moves }) => moves.some((motion) => motion.part === part.id))
      .map(({ id }) => id);
  if (part.sort !== 'vent') return [];
  return instrument
    .touchesOf(part.id)
    .filter(({ through }) => through.length === 0)
    .map(({ touch }) => touch);
}
