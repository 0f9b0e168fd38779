import type { Instrument } from './instrument.ts';
import { predictNote } from './note-effect.ts';
import { parseNote } from './notes.ts';
import type { Fingering, PlacedFault } from './schema.ts';

/**
 * Other fingerings on which a note speaks undisturbed in spite of these faults: the way round until it is mended.
 * @param note written note in any spelling. Test fingerings are left out. Empty when there is none.
 */
export function alternateFingerings(
  instrument: Instrument,
  note: string,
  faults: readonly PlacedFault[],
): Fingering[] {
  const wanted = parseNote(note);
  return instrument.fingerings.filter((fingering) => {
    if (fingering.kind !== 'alternate' || parseNote(fingering.note) !== wanted) return false;
    const { degree, sounded } = predictNote(instrument, fingering, faults);
    return degree === 'none' && sounded === null;
  });
}
