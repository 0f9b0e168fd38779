import {
  buildInstrument,
  type Fingering,
  FingeringsFile,
  type Instrument,
  isSameNote,
  MechanismFile,
  type NoteEffect,
  planOnTube,
  predictNote,
  type Severity,
} from '../../../src/mechanism/index.ts';
import { readFlow } from '../../support/read-flow.ts';

/** A brass instrument's data files that are told in full, parsed afresh, so that a test may break its copy. */
export function readBrass(id: string): { mechanism: MechanismFile; fingerings: FingeringsFile } {
  return {
    mechanism: MechanismFile.parse(readFlow(`instruments/${id}/mechanism.yaml`)),
    fingerings: FingeringsFile.parse(readFlow(`instruments/${id}/fingerings.yaml`)),
  };
}

export function buildBrass(id: string): Instrument {
  const { mechanism, fingerings } = readBrass(id);
  return buildInstrument(mechanism, fingerings);
}

export const trumpet = buildBrass('trumpet');

const TOUCHES: Readonly<Record<string, string>> = {
  1: 'touch.first',
  2: 'touch.second',
  3: 'touch.third',
  4: 'touch.fourth',
  T: 'touch.thumb',
};

/** The touches that a chart writes as "13", "T2", "0". */
export function touchesOf(fingers: string): string[] {
  return [...fingers].filter((finger) => finger !== '0').map((finger) => TOUCHES[finger]!);
}

/** The fingering of a note with these fingers. Throws RangeError when the instrument has none. */
export function fingeringWith(
  instrument: Instrument,
  note: string,
  fingers: string,
  position?: number,
): Fingering {
  const wanted = touchesOf(fingers).sort().join();
  const found = instrument.fingerings.find(
    (one) =>
      isSameNote(one.note, note) &&
      [...one.touches].sort().join() === wanted &&
      (one.position ?? 1) === (position ?? 1),
  );
  if (found === undefined) throw new RangeError(`${instrument.name} has no ${note} with ${fingers}`);
  return found;
}

export function partialOf(instrument: Instrument, fingering: Fingering): number | null {
  return planOnTube(instrument.tube!, fingering).partial;
}

/** How a fingering answers with one fault, given by its id. */
export function answerOf(
  instrument: Instrument,
  fingering: Fingering,
  fault: string,
  severity: Severity = 'moderate',
): NoteEffect {
  return predictNote(instrument, fingering, [{ fault: instrument.fault(fault), severity }]);
}
