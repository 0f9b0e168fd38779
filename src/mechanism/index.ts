// The instrument as data: which vents stand open for a fingering and a fault, and how each note then answers.
import { titleOf } from './faults.ts';
import type { Instrument } from './instrument.ts';
import type { Fault } from './schema.ts';

export { alternateFingerings } from './alternatives.ts';
export { faultId, placeFault, severitiesOf } from './faults.ts';
export {
  buildInstrument,
  type Instrument,
  lowerRegister,
  nextRegister,
  type Part,
  type PartSort,
  type Reach,
} from './instrument.ts';
export { MechanismError } from './mechanism-error.ts';
export { type NoteEffect, predictNote } from './note-effect.ts';
export {
  frequency,
  isSameNote,
  midi,
  NoteName,
  noteName,
  parseNote,
  readNote,
  type SpelledNote,
  soundingMidi,
  TUNING_FREQUENCY,
} from './notes.ts';
export {
  type Bore,
  type Cause,
  Clef,
  type Degree,
  type Fault,
  FaultKind,
  type Fingering,
  FingeringEntry,
  FingeringsFile,
  type Joint,
  type Key,
  type Link,
  MechanismFile,
  type Motion,
  type PlacedFault,
  type Severity,
  SOURCE_MARKS,
  SourcesFile,
  type Touch,
  type Vent,
} from './schema.ts';
export { SEVERITIES } from './severity.ts';
export { partsOf, type Relation, type SharedPart, sharedByFailing } from './shared-parts.ts';
export { planOnTube, positionName, positionsOf, type Tube } from './tube.ts';
export { tuningOf } from './tube-references.ts';
export { partsOfTube, TUBE_LISTS, TubeFile } from './tube-schema.ts';
export { type Column, columnOf, type VentState, ventStates } from './vent-states.ts';

/** Every fault that can physically happen to this instrument. */
export function listFaults(instrument: Instrument): readonly Fault[] {
  return instrument.faults;
}

/** The plain title of a fault, for example "The pad of the palm D cup leaks". */
export function describeFault(instrument: Instrument, fault: Fault): string {
  if (fault.kind === 'slack' || fault.kind === 'tight') return instrument.link(fault.place)[fault.kind].title;
  return titleOf(fault.kind, instrument.part(fault.place).name);
}
