import { describe, expect, test } from 'vitest';
import { findTradeWords, WordsFile } from '../../src/flow/index.ts';

const { words } = WordsFile.parse({
  source: ['common practice, no source'],
  words: [
    { word: 'pad', means: 'A soft disc.' },
    { word: 'cork', forms: ['neck cork'], means: 'A brown ring.' },
    { word: 'slot', means: 'A groove.' },
  ],
});
const found = (...texts: string[]) => findTradeWords(words, texts).map(({ word }) => word);

describe('the trade’s words in a text', () => {
  test('are found whole, in capitals or not, one or several, in the order of the text', () => {
    expect(found('Look at the Slot,', 'then at both pads.')).toEqual(['slot', 'pad']);
  });

  test('are found by their other forms, and listed once', () => {
    expect(found('The neck cork is a cork.')).toEqual(['cork']);
  });

  test('are not found inside other words', () => {
    expect(found('A padded envelope for a slotted thing')).toEqual([]);
  });
});
