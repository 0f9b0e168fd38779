import { describe, expect, it } from 'vitest';
import { believe, type Finding, notesToPlay, playTest } from '../../src/diagnosis/index.ts';
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

  describe('once its first part is played', () => {
    const grown = (findings: readonly Finding[]) =>
      notesToPlay(model, believe(model, findings, 'director'), findings, 'director');
    const firstIds = first.map(({ id }) => id);

    it('stays as it is until then', () => {
      const begun = playedExactly(hypothesisOf('sticks@cup.gsharp'), firstIds.slice(0, 5));
      expect(grown(begun)).toEqual({ first, then });
    });

    it('goes on with those of the rest that still tell something, and leaves out those that do not', () => {
      const leak = grown(playedExactly(hypothesisOf('leaks@cup.palm-eb', 'slight'), firstIds));
      expect(leak.first.length).toBeGreaterThan(first.length);
      expect(leak.first.slice(0, first.length)).toEqual(first);
      expect([...leak.first, ...leak.then].map(({ id }) => id).sort()).toEqual([...playTestIds].sort());
      const stuck = grown(playedExactly(hypothesisOf('sticks@cup.gsharp', 'gross'), firstIds));
      expect(stuck.first.length).toBeLessThan(leak.first.length);
    });

    it('does not wait for a note that could not be judged', () => {
      const findings = first.map(
        ({ id, note }): Finding => ({
          note,
          fingering: id,
          answered: id === firstIds[0] ? 'could-not-tell' : 'speaks',
        }),
      );
      expect(grown(findings).first.length).toBeGreaterThan(first.length);
    });

    it('keeps a note in its place once it has been played', () => {
      const hypothesis = hypothesisOf('leaks@cup.palm-eb', 'slight');
      const more = grown(playedExactly(hypothesis, firstIds)).first;
      const played = more.slice(0, first.length + 1).map(({ id }) => id);
      const next = grown(playedExactly(hypothesis, played)).first.map(({ id }) => id);
      expect(next).toEqual(expect.arrayContaining(played));
    });
  });

  it('works for an instrument of its data, not for named notes', () => {
    const shorter = { ...alto, playTest: alto.playTest.filter(({ note }) => midi(note) >= midi('C4')) };
    const order = playTest({ ...model, instrument: shorter }, 'director').first;
    expect(order.slice(0, 3).map(({ note }) => note)).toEqual(['D4', 'C#4', 'C4']);
  });
});
