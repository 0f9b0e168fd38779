import { describe, expect, it } from 'vitest';
import { playTest, sparableNotes } from '../../src/diagnosis/index.ts';
import { midi } from '../../src/mechanism/index.ts';
import { alto, model } from './support/alto.ts';
import { hypothesisOf, playedExactly, playTestIds } from './support/simulation.ts';

describe('the play test', () => {
  const { first, then } = playTest(model, 'director');

  it('begins at low D, all main fingers down, and goes down by semitones to low B flat', () => {
    expect(first.slice(0, 5).map(({ note }) => note)).toEqual(['D4', 'C#4', 'C4', 'B3', 'Bb3']);
  });

  it('goes on upwards with the notes that tell most, of both registers', () => {
    const more = first.slice(5).map(({ note }) => midi(note));
    expect(more).toEqual([...more].sort((one, other) => one - other));
    expect(first.some(({ register }) => register === 2)).toBe(true);
    expect(first.map(({ note }) => note)).toContain('G#4');
  });

  it('has every note once', () => {
    const all = [...first, ...then].map(({ id }) => id);
    expect([...all].sort()).toEqual([...playTestIds].sort());
  });

  it('is the same order for everybody who asks again', () => {
    expect(playTest(model, 'director')).toBe(playTest(model, 'director'));
  });

  it('spares notes once the answer is plain', () => {
    const hypothesis = hypothesisOf('sticks@cup.gsharp', 'gross');
    const some = playedExactly(hypothesis, [
      'fg.D4',
      'fg.Cs4',
      'fg.C4',
      'fg.B3',
      'fg.Bb3',
      'fg.Gs4',
      'fg.Gs5',
      'fg.G4',
      'fg.A4',
    ]);
    const spared = sparableNotes(model, some, 'director');
    expect(spared).not.toContain('fg.D4');
    expect(sparableNotes(model, [], 'director').length).toBeLessThan(spared.length);
  });

  it('works for an instrument of its data, not for named notes', () => {
    const shorter = { ...alto, playTest: alto.playTest.filter(({ note }) => midi(note) >= midi('C4')) };
    const order = playTest({ ...model, instrument: shorter }, 'director').first;
    expect(order.slice(0, 3).map(({ note }) => note)).toEqual(['D4', 'C#4', 'C4']);
  });
});
