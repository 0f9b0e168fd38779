/** Notes by the names that players use. */
import { sayNote } from '../diagnosis/index.ts';
import type { Fingering, Instrument } from '../mechanism/index.ts';

/** "low C sharp", for places where the written name stands beside it. */
export function playersName(instrument: Instrument, note: string): string {
  return sayNote(instrument, note).replace(/ \([^)]*\)$/, '');
}

/** A fingering by its note; one that is not the standard one says which it is. */
export function fingeringName(instrument: Instrument, fingering: Fingering): string {
  const name = playersName(instrument, fingering.note);
  return fingering.kind === 'standard' ? name : `${name}, ${fingering.name ?? 'another fingering'}`;
}
