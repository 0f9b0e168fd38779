import { Note } from 'tonal';
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import {
  columnOf,
  type Fingering,
  frequency,
  midi,
  predictNote,
  type Severity,
  soundingMidi,
} from '../../src/mechanism/index.ts';

const { instruments } = loadContent(new URL('../../flows', import.meta.url).pathname);
const of = (id: string) => instruments.get(id)!.instrument;
const bass = of('bass-clarinet');

function answer(fingering: Fingering, fault: string, severity: Severity = 'gross') {
  return predictNote(bass, fingering, [{ fault: bass.fault(fault), severity }]);
}

const second = bass.fingerings.filter(({ kind, register }) => kind === 'standard' && register === 2);
/** Written notes of the second register that need the right third finger down. */
const withThird = second.filter(({ touches }) => touches.includes('touch.rh3'));

describe('the sounding pitch of the other clarinets', () => {
  // Intervals by tonal 6.4.3, a general-purpose music-theory library; A = 440 Hz (ISO 16:1975).
  it.each([
    ['eb-clarinet', '3m'],
    ['a-clarinet', '-3m'],
    ['bass-clarinet', '-9M'],
    ['bass-clarinet-low-c', '-9M'],
  ] as const)('of the %s lies a %s from the written one', (id, interval) => {
    const instrument = of(id);
    for (const { note } of instrument.fingerings) {
      const sounding = soundingMidi(midi(note), instrument.transposition.semitones);
      const name = Note.transpose(note, interval);
      expect(sounding, note).toBe(Note.midi(name));
      expect(frequency(sounding), note).toBeCloseTo(Note.freq(name)!, 6);
    }
  });
});

describe('the small clarinets', () => {
  it.each(['eb-clarinet', 'a-clarinet'])(
    '%s has the keys, holes and fingerings of the B flat clarinet',
    (id) => {
      const { vents, touches, fingerings, faults } = of(id);
      const common = of('bb-clarinet');
      expect([vents, touches, fingerings, faults]).toEqual([
        common.vents,
        common.touches,
        common.fingerings,
        common.faults,
      ]);
    },
  );
});

// No published description of the bass clarinet’s keys could be read: what is held here is common practice, no source.
describe('the bass clarinet', () => {
  it('has pads on every hole, so no finger can leave one uncovered', () => {
    expect(bass.vents.filter(({ cover }) => cover === 'finger')).toEqual([]);
    expect(bass.faults.filter(({ kind }) => kind === 'uncovered')).toEqual([]);
  });

  it('reaches down to written E flat with one key more at the bottom', () => {
    expect(bass.range.lowest).toBe('Eb3');
    expect(columnOf(bass, bass.fingering('fg.Eb3').touches).firstOpen).toBeNull();
    expect(columnOf(bass, bass.fingering('fg.E3').touches).firstOpen).toBe('cup.low-eb');
  });

  it('opens one of two register vents by itself: the lower while the right third finger is down, the upper above', () => {
    for (const { id, touches } of second)
      expect(columnOf(bass, touches).registerVents, id).toEqual([
        touches.includes('touch.rh3') ? 'cup.register-low' : 'cup.register',
      ]);
    expect(withThird.map(({ note }) => note)).toEqual(['B4', 'C5', 'C#5', 'D5', 'Eb5']);
  });

  it('loses to a clogged vent only the notes of that vent', () => {
    for (const fingering of second) {
      const isLow = withThird.includes(fingering);
      expect(answer(fingering, 'blocked@cup.register-low').sounded, fingering.id).toBe(
        isLow ? midi(fingering.note) - 19 : null,
      );
      expect(answer(fingering, 'blocked@cup.register').sounded, fingering.id).toBe(
        isLow ? null : midi(fingering.note) - 19,
      );
    }
  });

  it('disturbs with a switch that does not go over only notes of the right third finger', () => {
    const spoiled = bass.fingerings.filter(
      (fingering) => answer(fingering, 'slack@link.rh3-switches-register').degree !== 'none',
    );
    for (const { touches } of spoiled) {
      expect(touches).toContain('touch.rh3');
      expect(touches).toContain('touch.register');
    }
  });

  it('reaches down to written C in the long model, each key taking along all the cups above its own', () => {
    const long = of('bass-clarinet-low-c');
    for (const [fingering, open] of [
      ['fg.Eb3', 'cup.low-d'],
      ['fg.D3', 'cup.low-csharp'],
      ['fg.Cs3', 'cup.low-c'],
      ['fg.C3', null],
    ] as const)
      expect(columnOf(long, long.fingering(fingering).touches).firstOpen).toBe(open);
  });

  it('spoils the lowest note alone where the low E flat key leaves the E cup open', () => {
    const spoiled = bass.fingerings.filter(
      (fingering) => answer(fingering, 'slack@link.loweb-closes-e').degree !== 'none',
    );
    expect(spoiled.map(({ id }) => id)).toEqual(['fg.Eb3']);
  });
});
