/**
 * The run that the start page shows to whoever wants to look first. The band, its instrument, the shop and what
 * happened to them are invented; what its notes do is worked out from the mechanism with this fault in it.
 */
import type { Severity } from '../mechanism/index.ts';
import type { Opening } from './schema.ts';

export type ExampleStory = {
  readonly opening: Opening;
  /** What is the matter, until it has been mended. */
  readonly fault: string;
  readonly severity: Severity;
  /** The answers to checks that do not give what a good instrument would, by the check's id. */
  readonly checks: Readonly<Record<string, string>>;
  /** The answers at steps of the charts, visit by visit; elsewhere the first answer is given. */
  readonly choices: Readonly<Record<string, readonly string[]>>;
  /** One sentence that says who is invented. */
  readonly invented: string;
};

export const exampleStory: ExampleStory = {
  opening: {
    instrument: 'alto-saxophone',
    person: 'director',
    tools: ['screwdriver', 'paper', 'second-person', 'own-mouthpiece'],
    complaint: 'Alto 7 of the Harbour Lane band: since the bus trip the low notes do not come.',
  },
  fault: 'slack@link.fsharp-holds-gsharp',
  severity: 'moderate',
  checks: { 'tap@link.fsharp-holds-gsharp': 'stirs', 'lands@link.fsharp-holds-gsharp': 'own-first' },
  choices: {
    'owner-word': ['yes'],
    'procedure.turn-screw.test': ['better', 'trace', 'gone'],
  },
  invented: 'The Harbour Lane band, its alto number 7 and everything that happens to it are invented.',
};
