import {
  buildInstrument,
  FingeringsFile,
  MechanismFile,
  type PlacedFault,
  type Severity,
} from '../../../src/mechanism/index.ts';
import { readFlow } from '../../support/read-flow.ts';

export const clarinet = buildInstrument(
  MechanismFile.parse(readFlow('instruments/bb-clarinet/mechanism.yaml')),
  FingeringsFile.parse(readFlow('instruments/bb-clarinet/fingerings.yaml')),
);

/** A fault of the clarinet by its id, with a severity. */
export function placed(id: string, severity: Severity): PlacedFault {
  return { fault: clarinet.fault(id), severity };
}
