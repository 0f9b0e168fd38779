import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Reading, readComplaint } from '../../src/complaint/index.ts';
import { sayNote } from '../../src/diagnosis/index.ts';
import { midi } from '../../src/mechanism/index.ts';
import { content, instrumentOf, vocabulary } from './support/reading.ts';

const letters = ['C', 'D', 'E', 'F', 'G', 'A', 'B'] as const;
const heights = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 } as const;
const signs = {
  '-1': ['b', '♭', ' flat', '-flat', 'flat', ' Flat'],
  '0': ['', ' natural', '-natural'],
  '1': ['#', '♯', ' sharp', '-sharp', 'sharp', ' #'],
} as const;

function readAs(id: string, text: string): Reading {
  const { instrument, model } = instrumentOf(id);
  return readComplaint(instrument, model, vocabulary, text);
}

/** Every way to write the name of a note, without its octave. */
function spellingsOf(number: number): string[] {
  return letters.flatMap((letter) =>
    ([-1, 0, 1] as const)
      .filter((shift) => (heights[letter] + shift + 12) % 12 === number % 12)
      .flatMap((shift) => signs[shift].map((sign) => `${letter}${sign}`)),
  );
}

/** The octave number that belongs to a spelling: B sharp is written an octave lower than the C that it sounds as. */
function octaveOf(number: number, spelling: string): number {
  const letter = spelling[0] as keyof typeof heights;
  const shift = /sharp|#|♯/i.test(spelling) ? 1 : /flat|♭|.b$/i.test(spelling) ? -1 : 0;
  return (number - heights[letter] - shift) / 12 - 1;
}

const spelled = fc.constantFrom(...content.instruments.keys()).chain((id) => {
  const { instrument } = instrumentOf(id);
  const standard = instrument.fingerings.filter(({ kind }) => kind === 'standard');
  return fc
    .constantFrom(...standard)
    .chain(({ note }) =>
      fc.constantFrom(...spellingsOf(midi(note))).map((spelling) => ({ id, note, spelling })),
    );
});

// The first of them makes the readers of all instruments, which takes its time.
describe('a written note', { timeout: 120_000 }, () => {
  test('with its octave number is that note, in every spelling, on every instrument', () => {
    fc.assert(
      fc.property(spelled, ({ id, note, spelling }) => {
        const text = `${spelling}${octaveOf(midi(note), spelling)} is silent`;
        const [first] = readAs(id, text).proposals;
        expect(first?.isLikely && first.findings.map((finding) => 'note' in finding && finding.note)).toEqual(
          [note],
        );
      }),
      { numRuns: 600 },
    );
  });

  test('by its name alone is among the readings, in every spelling', () => {
    fc.assert(
      fc.property(spelled, ({ id, note, spelling }) => {
        const { proposals } = readAs(id, `the ${spelling} is silent`);
        const read = proposals.flatMap(({ findings }) =>
          findings.map((finding) => ('note' in finding ? midi(finding.note) % 12 : -1)),
        );
        expect(read.length).toBeGreaterThan(0);
        expect(new Set(read)).toEqual(new Set([midi(note) % 12]));
      }),
      { numRuns: 600 },
    );
  });

  test('as the program itself says it is read back as that note', () => {
    for (const [id, { instrument }] of content.instruments) {
      for (const { note } of instrument.fingerings.filter(({ kind }) => kind === 'standard')) {
        const text = `${sayNote(instrument, note)} is silent`;
        const [first] = readAs(id, text).proposals;
        expect([text, first?.findings]).toEqual([text, [expect.objectContaining({ note })]]);
      }
    }
  });
});
