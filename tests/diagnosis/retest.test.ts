import { describe, expect, it } from 'vitest';
import { type Finding, retestNotes, staleAfter } from '../../src/diagnosis/index.ts';
import { model } from './support/alto.ts';
import { hypothesisOf, pairOf, playedExactly } from './support/simulation.ts';

const fault = 'slack@link.fsharp-holds-gsharp';
const played = playedExactly(hypothesisOf(fault));

describe('the notes to play again', () => {
  it('are those that failed, and a few that too much of the same would spoil', () => {
    // Trade check, common practice, no source: turned in too far, every note that uses the right hand suffers and none above.
    const notes = retestNotes(model, fault, played);
    expect(notes.slice(0, 3).sort()).toEqual(['fg.B3', 'fg.Bb3', 'fg.Cs4']);
    const guards = notes.slice(3);
    expect(guards).toContain('fg.D4');
    expect(guards.length).toBeGreaterThan(1);
    expect(guards.length).toBeLessThanOrEqual(4);
    const withRightHand = (id: string) =>
      model.instrument.fingering(id).touches.some((touch) => touch.startsWith('touch.rh'));
    expect(guards.every(withRightHand)).toBe(true);
  });

  it('are only those that failed where the treatment cannot be overdone and hid nothing', () => {
    const stuck = 'sticks@cup.low-eb';
    expect(retestNotes(model, stuck, playedExactly(hypothesisOf(stuck)))).toEqual(['fg.Eb4', 'fg.Eb5']);
  });

  it('are also those on which the fault hid another: a cup that stuck shut was not missed by the screw that holds it', () => {
    const stuck = 'sticks@cup.gsharp';
    const both = pairOf(stuck, fault);
    const before = playedExactly(both);
    expect(before.filter((finding) => 'note' in finding && finding.answered !== 'speaks').length).toBe(2);
    const notes = retestNotes(model, stuck, before);
    expect(notes.slice(0, 2)).toEqual(['fg.Gs4', 'fg.Gs5']);
    expect(notes.length).toBeGreaterThan(2);
    const again = playedExactly(hypothesisOf(fault), notes.slice(2));
    expect(again.every((finding) => 'note' in finding && finding.answered !== 'speaks')).toBe(true);
    const stale = staleAfter(model, stuck, before);
    for (const id of notes) expect(stale.some((one) => 'note' in one && one.fingering === id)).toBe(true);
  });

  it('are so many that it can be called well when all of them speak, even if few were played before', () => {
    const { healthyNotes } = model.knowledge.people.rules;
    const stuck = 'sticks@cup.low-eb';
    const few = playedExactly(hypothesisOf(stuck)).filter(
      (finding) => 'note' in finding && finding.answered !== 'speaks',
    );
    const notes = retestNotes(model, stuck, few);
    expect(notes.slice(0, 2)).toEqual(['fg.Eb4', 'fg.Eb5']);
    expect(notes).toHaveLength(healthyNotes.value);
    expect(retestNotes(model, stuck, [])).toEqual(['fg.Eb4', 'fg.Eb5']);
  });

  it('hold each note once, however often it failed', () => {
    const again: Finding[] = [
      ...played,
      { note: 'C#4', answered: 'silent' },
      { note: 'Db4', answered: 'wrong' },
    ];
    const notes = retestNotes(model, fault, again);
    expect(new Set(notes).size).toBe(notes.length);
  });

  it('need a fault of the instrument', () => {
    expect(() => retestNotes(model, 'slack@link.none', played)).toThrow(RangeError);
  });
});

describe('what no longer counts after a treatment', () => {
  it('are the findings that the fault or too much of its treatment would change; the rest stand', () => {
    const drop: Finding = { check: 'dropped@instrument', saw: 'not-dropped' };
    const tap: Finding = { check: 'tap@link.fsharp-holds-gsharp', saw: 'stirs' };
    const other: Finding = { check: 'lands@link.a-closes-bis', saw: 'together' };
    const all = [...played, drop, tap, other];
    const stale = staleAfter(model, fault, all);
    const note = (name: string) => all.find((finding) => 'note' in finding && finding.note === name)!;
    for (const name of ['C#4', 'B3', 'Bb3', 'D4', 'F#4']) expect(stale).toContain(note(name));
    for (const name of ['G4', 'A4', 'C5', 'A5', 'D6']) expect(stale).not.toContain(note(name));
    expect(stale).toContain(tap);
    expect(stale).not.toContain(drop);
    expect(stale).not.toContain(other);
  });
});
