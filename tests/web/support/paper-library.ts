/** A library of one invented, much shortened instrument. */
import { Problem } from '../../../src/problems.ts';
import type { Library } from '../../../src/web/library.ts';
import { paperInstrument as alto } from './paper-instrument.ts';
import { readPaperSheet } from './paper-sheet.ts';

/** The library. Its diagnosis is a constant: what the tests look at is how requests and refusals travel. */
export function createPaperLibrary(): Library {
  const requireAlto = (id: string, pointer: string) => {
    if (id === alto.id) return;
    throw new Problem('unknown-instrument', `There is no instrument "${id}" here. Known: alto-saxophone.`, {
      fields: [{ pointer, detail: 'Give one of: alto-saxophone.' }],
      extra: { known: [alto.id] },
    });
  };
  const summary = {
    id: alto.id,
    name: alto.name,
    family: alto.family,
    familyName: 'Saxophones',
    lookFor: null,
  };
  return {
    persons: [
      { id: 'director', label: 'Band director', line: 'I have the instrument in my hands.' },
      { id: 'helper', label: 'Helper', line: 'I help at a clinic, and somebody supervises me.' },
      { id: 'desk', label: 'Shop desk', line: 'Somebody tells me about it on the telephone.' },
    ],
    tools: [
      { id: 'screwdriver', label: 'A small screwdriver' },
      { id: 'paper', label: 'Thin paper' },
    ],
    instruments: () => [summary],
    families: () => [
      {
        id: alto.family,
        name: summary.familyName,
        lookFor: 'A reed and brass.',
        instruments: [{ ...summary, picture: '<svg></svg>' }],
      },
    ],
    instrument(id) {
      requireAlto(id, '/id');
      return alto;
    },
    diagnose(request) {
      requireAlto(request.instrument, '/instrument');
      request.findings.forEach((finding, place) => {
        if ('note' in finding && finding.note === 'Z9') {
          throw new Problem('unknown-note', 'There is no note "Z9". Known: C#4.', {
            fields: [{ pointer: `/findings/${place}/note`, detail: 'Give one of: C#4.' }],
            extra: { known: ['C#4'] },
          });
        }
      });
      return {
        suspects: [
          {
            fault: 'slack@link.fsharp-holds-gsharp',
            title: 'G sharp screw backed out',
            kind: 'slack',
            place: 'link.fsharp-holds-gsharp',
            probability: 0.9,
            because: ['Low C sharp failed while low D spoke.'],
          },
        ],
        rest: 0.1,
        nextChecks: [
          { check: 'tap@link.fsharp-holds-gsharp', title: 'Tap the G sharp cup', bits: 0.8, cost: 20 },
        ],
        explanation: 'It is the screw.',
        pattern: {
          failed: ['C#4'],
          spoke: ['D4'],
          shared: 'the G sharp cup',
          against: [],
        },
        proposals: [],
        notUnderstood: [],
      };
    },
    async complaints(instrument) {
      requireAlto(instrument, '/instrument');
      return [{ failing: ['fg.Cs4'], words: 'Low C sharp fails', chance: 'about 1 in 10' }];
    },
    async paperSheet(request) {
      requireAlto(request.instrument, '/instrument');
      return readPaperSheet(request);
    },
    notesNear: () => [
      { note: 'D5', name: 'an octave higher' },
      { note: 'Eb4', name: 'low E flat' },
    ],
  };
}
