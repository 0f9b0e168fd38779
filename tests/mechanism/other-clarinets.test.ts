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
    ['alto-clarinet', '-6M'],
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
  it('has pads on every hole but the small one in the left first cup, so a finger can leave no other one uncovered', () => {
    const byFinger = bass.vents.filter(({ cover }) => cover === 'finger');
    expect(byFinger.map(({ id }) => id)).toEqual(['hole.half']);
    expect(bass.faults.filter(({ kind }) => kind === 'uncovered').map(({ place }) => place)).toEqual([
      'hole.half',
    ]);
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

/**
 * "On Boehm-system models the first hole is left open as a vent for the lower altissimo notes; for alto, bass and contrabass
 * clarinets a half-hole is used as the vent" (Woodwind Fingering Guide, http://wfg.woodwind.org/clarinet/cl_fing.html).
 */
describe.each(['alto-clarinet', 'bass-clarinet', 'bass-clarinet-low-c'])('the altissimo of the %s', (id) => {
  const low = of(id);
  const high = low.fingerings.filter(({ register }) => register === 3);

  it('is fingered as on the B flat clarinet, with the half hole where the first hole stands open', () => {
    expect(high.map(({ note }) => note)).toEqual(['C#6', 'D6', 'Eb6', 'E6']);
    for (const { id: fingering, touches } of high) {
      const common = of('bb-clarinet').fingering(fingering).touches;
      expect(common).not.toContain('touch.lh1');
      expect(touches.toSorted()).toEqual([...common, 'touch.half'].toSorted());
    }
  });

  it('alone fails where the half hole is clogged; a finger that does not cover it spoils what lies below', () => {
    const spoiled = (fault: string) =>
      low.fingerings
        .filter(({ kind }) => kind === 'standard')
        .filter((one) => {
          const effect = predictNote(low, one, [{ fault: low.fault(fault), severity: 'gross' }]);
          return effect.degree !== 'none' || effect.sounded !== null;
        })
        .map(({ note }) => note);
    expect(spoiled('blocked@hole.half')).toEqual(high.map(({ note }) => note));
    expect(spoiled('uncovered@hole.half')).toContain('G3');
    // From F sharp up the finger is off, and the whole hole stands open.
    expect(spoiled('uncovered@hole.half')).not.toContain('G4');
  });
});
