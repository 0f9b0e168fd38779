import {
  buildDiagnosisModel,
  ChecksFile,
  FaultsFile,
  FrequenciesFile,
  type Knowledge,
  PeopleFile,
  type Situation,
} from '../../../src/diagnosis/index.ts';
import { FamilyFile } from '../../../src/flow/index.ts';
import { buildInstrument, FingeringsFile, MechanismFile } from '../../../src/mechanism/index.ts';
import { readFlow } from '../../support/read-flow.ts';

const own = (name: string) => readFlow(`instruments/alto-saxophone/${name}`);

/** The data files as they are. */
export const knowledge: Knowledge = {
  faults: FaultsFile.parse(readFlow('faults.yaml')),
  checks: ChecksFile.parse(readFlow('checks.yaml')),
  people: PeopleFile.parse(readFlow('people.yaml')),
  frequencies: FrequenciesFile.parse(own('frequencies.yaml')),
  words: FamilyFile.parse(readFlow('families/saxophone.yaml')).words,
};

export const alto = buildInstrument(
  MechanismFile.parse(own('mechanism.yaml')),
  FingeringsFile.parse(own('fingerings.yaml')),
);

export const model = buildDiagnosisModel(alto, knowledge);

/** A band director with everything to hand, on an instrument of the school. */
export const director: Situation = {
  person: 'director',
  tools: ['screwdriver', 'paper', 'second-person'],
  canPlay: true,
  ownerAllows: true,
};

/** A shop on the telephone with a caller who has the instrument in hand and nothing else. */
export const desk: Situation = { person: 'desk', tools: [], canPlay: true, ownerAllows: true };
