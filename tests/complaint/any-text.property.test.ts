import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { spellOut } from '../../src/complaint/expressions.ts';
import { longestComplaint } from '../../src/complaint/index.ts';
import { addFinding, startBelief } from '../../src/diagnosis/index.ts';
import { alto, read, vocabulary } from './support/reading.ts';

const said = [
  ...vocabulary.answers,
  ...vocabulary.signs,
  ...vocabulary.stories,
  ...vocabulary.stretches,
  ...vocabulary.noEffect,
].flatMap(({ words }) => words.flatMap((words) => spellOut(words).map((row) => row.join(' '))));
const small = [
  ...vocabulary.negations,
  ...vocabulary.breaks,
  ...vocabulary.joins,
  ...vocabulary.only,
  ...vocabulary.except,
  ...Object.values(vocabulary.directions).flat(),
].flatMap((words) => spellOut(words).map((row) => row.join(' ')));
const named = [
  'low C',
  'G sharp',
  'Bb',
  'the octave key',
  'palm D',
  'the neck',
  'C#4',
  'A',
  ',',
  '.',
  '-',
  '\n',
];

/** Words of the vocabulary in any order, and anything else at all. */
const texts = fc.oneof(
  fc.string({ unit: 'grapheme', maxLength: 300 }),
  fc.string({ unit: 'binary', maxLength: 300 }),
  fc
    .array(fc.oneof(fc.constantFrom(...said), fc.constantFrom(...small), fc.constantFrom(...named)), {
      maxLength: 40,
    })
    .map((words) => words.join(' ')),
);

describe('whatever is written', () => {
  test('is read without an error, into few proposals, each once, each of which the diagnosis takes', () => {
    fc.assert(
      fc.property(texts, (text) => {
        const { proposals, understood } = read(text);
        expect(proposals.length).toBeLessThanOrEqual(vocabulary.limits.proposals);
        expect(new Set(proposals.map(({ id }) => id)).size).toBe(proposals.length);
        for (const { findings, says } of proposals) {
          expect(findings.length).toBeGreaterThan(0);
          expect(says).toMatch(/^[A-Z].*\.$/);
          expect(says).not.toContain('{{');
          for (const finding of findings)
            addFinding(alto.model, startBelief(alto.model), finding, 'director');
        }
        for (const { from, to } of understood) {
          expect(from).toBeGreaterThanOrEqual(0);
          expect(to).toBeLessThanOrEqual(text.length);
        }
      }),
      { numRuns: 400 },
    );
  });

  test('is read alike every time', () => {
    fc.assert(
      fc.property(texts, (text) => {
        expect(read(text)).toEqual(read(text));
      }),
      { numRuns: 100 },
    );
  });

  test('costs no more when it is very long: what lies beyond the limit is not looked at', () => {
    const characters = longestComplaint;
    fc.assert(
      fc.property(texts, fc.string({ maxLength: 200 }), (text, more) => {
        const full = text.padEnd(characters, ' low C').slice(0, characters);
        const { proposals, unread } = read(`${full}${more.repeat(50)}`);
        expect(proposals).toEqual(read(full).proposals);
        expect(unread).toBe(more.length * 50);
      }),
      { numRuns: 60 },
    );
  });
});
