import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  buildInstrument,
  type Degree,
  type Fingering,
  type PlacedFault,
  predictNote,
  SEVERITIES,
  severitiesOf,
  ventStates,
} from '../../src/mechanism/index.ts';
import { alto, placed, readAlto, speaks } from './support/alto.ts';

const DEGREES: readonly Degree[] = ['none', 'slight', 'clear', 'severe'];
const rank = (fingering: Fingering, faults: PlacedFault[], pressed: string[] = []) =>
  DEGREES.indexOf(predictNote(alto, fingering, faults, pressed).degree);

const plainFingerings = alto.fingerings.filter(({ register }) => register < 3);
const anyFingering = fc.constantFrom(...plainFingerings);
const anyFault = fc
  .constantFrom(...alto.faults)
  .chain((fault) =>
    fc.constantFrom(...severitiesOf(fault)).map((severity): PlacedFault => ({ fault, severity })),
  );
const anyFaults = fc.array(anyFault, { maxLength: 3 });

/** The first open tone hole with these faults, and the leaking vents. */
function look(fingering: Fingering, faults: PlacedFault[]) {
  const states = ventStates(alto, fingering.touches, faults);
  const first = alto.vents.findIndex(({ note }, index) => note !== null && states[index]!.open);
  const leaking = alto.vents.filter((_, index) => states[index]!.leak > 0).map(({ id }) => id);
  return { states, first: first === -1 ? alto.vents.length : first, leaking };
}

describe('what holds for every fingering and fault', () => {
  it('a healthy instrument speaks every note, third-register ones too', () => {
    for (const fingering of alto.fingerings) {
      expect(predictNote(alto, fingering, []), fingering.id).toEqual({
        degree: 'none',
        octaveUp: false,
        sounded: null,
      });
    }
  });

  it('pressing shut a leaking vent never makes a note worse', () => {
    fc.assert(
      fc.property(anyFingering, anyFaults, fc.nat(), (fingering, faults, pick) => {
        const { leaking } = look(fingering, faults);
        fc.pre(leaking.length > 0);
        const pressed = [leaking[pick % leaking.length]!];
        expect(rank(fingering, faults, pressed)).toBeLessThanOrEqual(rank(fingering, faults));
      }),
      { numRuns: 1000 },
    );
  });

  it('pressing a vent that is shut already changes nothing', () => {
    fc.assert(
      fc.property(fc.constantFrom(...alto.fingerings), anyFaults, (fingering, faults) => {
        const { states } = look(fingering, faults);
        const shut = alto.vents
          .filter((_, index) => !states[index]!.open && states[index]!.leak === 0)
          .map(({ id }) => id);
        expect(predictNote(alto, fingering, faults, shut)).toEqual(predictNote(alto, fingering, faults));
      }),
      { numRuns: 1000 },
    );
  });

  it('pressing shut every leaking vent cures a leak that no lost pad causes', () => {
    const leaks = alto.faults.filter(({ kind }) => kind === 'leaks' || kind === 'bent');
    fc.assert(
      fc.property(anyFingering, fc.constantFrom(...leaks), (fingering, fault) => {
        const faults = [{ fault, severity: 'gross' as const }];
        expect(speaks(predictNote(alto, fingering, faults, look(fingering, faults).leaking))).toBe(true);
      }),
    );
  });

  it('a leak below the first open hole changes nothing', () => {
    const toneHoles = alto.vents.flatMap(({ note }, index) => (note === null ? [] : [index]));
    fc.assert(
      fc.property(anyFingering, anyFaults, fc.constantFrom(...toneHoles), (fingering, faults, vent) => {
        fc.pre(vent > look(fingering, faults).first);
        const leak = placed(`leaks@${alto.vents[vent]!.id}`);
        expect(predictNote(alto, fingering, [...faults, leak])).toEqual(predictNote(alto, fingering, faults));
      }),
      { numRuns: 500 },
    );
  });

  it('a single leak that grows never lets the note get better', () => {
    const leaks = alto.faults.filter(({ kind }) => kind === 'leaks' || kind === 'loose');
    fc.assert(
      fc.property(anyFingering, fc.constantFrom(...leaks), (fingering, fault) => {
        const degrees = SEVERITIES.map((severity) => rank(fingering, [{ fault, severity }]));
        expect(degrees).toEqual([...degrees].sort((one, other) => one - other));
      }),
    );
  });

  it('a vent is never open and leaking at once, and only an open one is restricted', () => {
    fc.assert(
      fc.property(fc.constantFrom(...alto.fingerings), anyFaults, (fingering, faults) => {
        for (const { open, leak, restricted } of look(fingering, faults).states) {
          expect(open && leak > 0).toBe(false);
          expect(!open && restricted > 0).toBe(false);
          expect(restricted).toBeLessThan(1);
        }
      }),
    );
  });

  it('one prediction leaves no trace in the next', () => {
    const { mechanism, fingerings } = readAlto();
    fc.assert(
      fc.property(fc.constantFrom(...alto.fingerings), anyFaults, anyFaults, (fingering, before, faults) => {
        const fresh = buildInstrument(mechanism, fingerings);
        predictNote(alto, fingering, before);
        expect(predictNote(alto, fingering, faults)).toEqual(predictNote(fresh, fingering, faults));
      }),
      { numRuns: 100 },
    );
  });

  it('only the vents that a fault is said to move ever move', () => {
    fc.assert(
      fc.property(fc.constantFrom(...alto.fingerings), anyFaults, (fingering, faults) => {
        const movable = new Set(
          faults.flatMap(({ fault }) => [...alto.workings.entries.get(fault.id)!.vents]),
        );
        const healthy = ventStates(alto, fingering.touches, []);
        for (const [index, state] of look(fingering, faults).states.entries()) {
          if (!movable.has(index)) expect(state).toEqual(healthy[index]);
        }
      }),
      { numRuns: 1000 },
    );
  });

  it('the order of the faults does not matter', () => {
    fc.assert(
      fc.property(fc.constantFrom(...alto.fingerings), anyFaults, (fingering, faults) => {
        expect(predictNote(alto, fingering, [...faults].reverse())).toEqual(
          predictNote(alto, fingering, faults),
        );
      }),
    );
  });

  it('an unknown fault or vent is refused and leaves no trace', () => {
    const ghost: PlacedFault = {
      fault: { id: 'leaks@cup.low-a', kind: 'leaks', place: 'cup.low-a' },
      severity: 'gross',
    };
    const fingering = alto.fingering('fg.Bb3');
    expect(() => predictNote(alto, fingering, [placed('leaks@cup.g'), ghost])).toThrow(
      'no fault "leaks@cup.low-a"',
    );
    expect(() => predictNote(alto, fingering, [placed('leaks@cup.g')], ['cup.low-a'])).toThrow(
      'no cup "cup.low-a"',
    );
    expect(speaks(predictNote(alto, fingering, []))).toBe(true);
  });
});
