import { describe, expect, test } from 'vitest';
import { fillTemplate, listPlaceholders, turnsInWords } from '../../src/flow/index.ts';

describe('turns in words', () => {
  test.each([
    [0, 'nothing'],
    [1, 'an eighth of a turn'],
    [2, 'a quarter turn'],
    [4, 'half a turn'],
    [6, 'three quarters of a turn'],
    [8, 'one whole turn'],
    [10, 'one whole turn and a quarter turn'],
    [32, '4 whole turns'],
  ])('%i eighths are %s', (eighths, words) => expect(turnsInWords(eighths)).toBe(words));
});

describe('filling a text', () => {
  test('puts in what is known and leaves the rest standing', () => {
    expect(fillTemplate('Turn {{direction}} by {{turned}}.', { turned: 'half a turn' })).toBe(
      'Turn {{direction}} by half a turn.',
    );
  });

  test('does not fill again what was filled in', () => {
    expect(fillTemplate('{{fault}}', { fault: '{{place}}', place: 'the bell' })).toBe('{{place}}');
  });

  test('lists each blank once, known or not', () => {
    expect(listPlaceholders('{{place}} and {{ nonsense }} and {{place}}')).toEqual(['place', 'nonsense']);
  });
});
