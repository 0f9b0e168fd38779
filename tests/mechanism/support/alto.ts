import {
  buildInstrument,
  type Fingering,
  FingeringsFile,
  type Instrument,
  MechanismFile,
  type NoteEffect,
  type PlacedFault,
  predictNote,
  type Severity,
  SourcesFile,
} from '../../../src/mechanism/index.ts';
import { readFlow } from '../../support/read-flow.ts';

/** The alto's data files, parsed afresh, so that a test may break its copy. */
export function readAlto(): { mechanism: MechanismFile; fingerings: FingeringsFile } {
  return {
    mechanism: MechanismFile.parse(readFlow('instruments/alto-saxophone/mechanism.yaml')),
    fingerings: FingeringsFile.parse(readFlow('instruments/alto-saxophone/fingerings.yaml')),
  };
}

export function readSources(): SourcesFile {
  return SourcesFile.parse(readFlow('sources.yaml'));
}

export function buildAlto(): Instrument {
  const { mechanism, fingerings } = readAlto();
  return buildInstrument(mechanism, fingerings);
}

export const alto = buildAlto();

/** A fault of the alto by its id, with a severity. */
export function placed(id: string, severity: Severity = 'gross'): PlacedFault {
  return { fault: alto.fault(id), severity };
}

/** How the alto's fingering answers with one fault, given by ids. */
export function answer(fingering: string, fault?: string, severity: Severity = 'gross'): NoteEffect {
  return predictNote(alto, alto.fingering(fingering), fault === undefined ? [] : [placed(fault, severity)]);
}

/** The ids of the fingerings that do not speak undisturbed with this fault. */
export function troubled(
  fault: string,
  severity: Severity = 'gross',
  among: readonly Fingering[] = alto.fingerings,
): string[] {
  return among.filter((fingering) => !speaks(answer(fingering.id, fault, severity))).map(({ id }) => id);
}

export function speaks(effect: NoteEffect): boolean {
  return effect.degree === 'none' && effect.sounded === null;
}

export const standardFingerings = alto.fingerings.filter((fingering) => fingering.kind === 'standard');
