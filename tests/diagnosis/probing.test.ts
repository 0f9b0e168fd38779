import { describe, expect, it } from 'vitest';
import {
  afterAnswer,
  expectedClassInformation,
  expectedInformation,
  type Observation,
} from '../../src/diagnosis/information.ts';
import { entropyBits } from '../../src/diagnosis/probability.ts';
import { expectClose } from './support/closeness.ts';

/** An observation whose outcome each hypothesis settles, by the value that it predicts. */
function settled(predicted: readonly (number | string)[]): Observation {
  const values = [...new Set(predicted)];
  return {
    codes: predicted.map((value) => values.indexOf(value)),
    rows: values.map((_, code) => values.map((_, answer) => (answer === code ? 1 : 0))),
  };
}

describe('three multipliers and two adders', () => {
  // Device and findings: de Kleer & Williams 1987, Artificial Intelligence 32(1):97-130; also Reiter 1987. A part that
  // is broken says nothing about its output. Inputs 3 2 2 3 3; F = 10 and G = 12 seen where 12 and 12 are right.
  const parts = ['A1', 'A2', 'M1', 'M2', 'M3'] as const;
  const sets = Array.from({ length: 32 }, (_, bits) => parts.filter((_, part) => (bits >> part) & 1));

  /** What a set of broken parts says about X, Y and Z, with what F and G tell where an adder is sound; null: anything. */
  function predict(broken: readonly string[]): {
    x: number | null;
    y: number | null;
    z: number | null;
    fits: boolean;
  } {
    const sound = (part: string) => !broken.includes(part);
    let x = sound('M1') ? 6 : null;
    let y = sound('M2') ? 6 : null;
    let z = sound('M3') ? 6 : null;
    let fits = true;
    for (let round = 0; round < 3; round += 1) {
      if (sound('A1')) {
        if (x !== null && y !== null) fits &&= x + y === 10;
        else if (x !== null) y = 10 - x;
        else if (y !== null) x = 10 - y;
      }
      if (sound('A2')) {
        if (y !== null && z !== null) fits &&= y + z === 12;
        else if (y !== null) z = 12 - y;
        else if (z !== null) y = 12 - z;
      }
    }
    return { x, y, z, fits };
  }
  const consistent = sets.filter((broken) => predict(broken).fits);
  const weight = (broken: readonly string[]) =>
    0.01 ** broken.length * 0.99 ** (parts.length - broken.length);
  const evidence = consistent.reduce((sum, broken) => sum + weight(broken), 0);
  const masses = consistent.map((broken) => weight(broken) / evidence);

  it('leave the published minimal diagnoses', () => {
    const minimal = consistent.filter(
      (broken) =>
        !consistent.some(
          (other) => other.length < broken.length && other.every((part) => broken.includes(part)),
        ),
    );
    expect(minimal.map((broken) => broken.join('+')).sort()).toEqual(['A1', 'A2+M2', 'M1', 'M2+M3']);
  });

  it('have the derived posterior and entropy with prior 0.01 for each part', () => {
    const of = (name: string) => masses[consistent.findIndex((broken) => broken.join('+') === name)];
    expect(of('A1')).toBeCloseTo(0.478026, 6);
    expect(of('M1')).toBeCloseTo(0.478026, 6);
    expect(entropyBits(masses)).toBeCloseTo(1.359445, 6);
  });

  it('are best probed at X, by the entropy of the outcome', () => {
    const probe = (point: 'x' | 'y' | 'z') =>
      expectedInformation(masses, settled(consistent.map((broken) => predict(broken)[point] ?? 'anything')));
    expect(probe('x')).toBeCloseTo(1.040838, 6);
    expect(probe('y')).toBeCloseTo(0.081544, 6);
    expect(probe('z')).toBeCloseTo(0.047402, 6);
  });
});

describe('four inverters in a row', () => {
  // Device: de Kleer & Williams 1987, sect. 4.5 (advice: the far end first, then half-way); figures derived. Input 1,
  // each part broken with prior 0.01, a broken part gives 0 or 1 with equal chance.
  type World = { broken: string; outputs: number[] };
  const modes = ['sound', 'gives 0', 'gives 1'] as const;

  function worldsWith(priors: readonly number[]): { worlds: World[]; masses: number[] } {
    const all = Array.from({ length: 81 }, (_, number) =>
      [0, 1, 2, 3].map((part) => modes[Math.floor(number / 3 ** part) % 3]!),
    );
    const worlds = all.map((state): World => {
      let level = 1;
      const outputs = state.map((mode) => {
        level = mode === 'sound' ? 1 - level : mode === 'gives 0' ? 0 : 1;
        return level;
      });
      return { broken: state.map((mode, part) => (mode === 'sound' ? '' : 'ABCD'[part])).join(''), outputs };
    });
    const masses = all.map((state) =>
      state.reduce(
        (mass, mode, part) => mass * (mode === 'sound' ? 1 - priors[part]! : priors[part]! / 2),
        1,
      ),
    );
    return { worlds, masses };
  }

  const probes = { b: 0, c: 1, d: 2, e: 3 } as const;
  const at = (worlds: World[], probe: keyof typeof probes): Observation => ({
    codes: worlds.map(({ outputs }) => outputs[probes[probe]]!),
    rows: [
      [1, 0],
      [0, 1],
    ],
  });

  function bySet(worlds: World[], masses: ArrayLike<number>) {
    const names = [...new Set(worlds.map(({ broken }) => broken))];
    const of = worlds.map(({ broken }) => names.indexOf(broken));
    const sums = names.map((_, name) =>
      worlds.reduce((sum, _world, index) => sum + (of[index] === name ? masses[index]! : 0), 0),
    );
    return {
      classes: { of, count: names.length },
      entropy: entropyBits(sums),
      of: (name: string) => sums[names.indexOf(name)],
    };
  }

  /** Expected entropy of the set of broken parts after each probe. */
  function expectedEntropies(worlds: World[], masses: ArrayLike<number>, points: (keyof typeof probes)[]) {
    const { classes, entropy } = bySet(worlds, masses);
    return points.map((point) => entropy - expectedClassInformation(masses, at(worlds, point), classes));
  }

  const { worlds, masses } = worldsWith([0.01, 0.01, 0.01, 0.01]);

  it('are probed at the far end first', () => {
    expect(bySet(worlds, masses).entropy).toBeCloseTo(0.323173, 6);
    expectClose(
      expectedEntropies(worlds, masses, ['b', 'c', 'd', 'e']),
      [0.287758, 0.262611, 0.241416, 0.222812],
      6,
    );
  });

  it('then in the middle, then next to the suspect, then no more', () => {
    const low = afterAnswer(masses, at(worlds, 'e'), 0)!;
    expect(bySet(worlds, low).entropy).toBeCloseTo(2.122114, 6);
    expect(bySet(worlds, low).of('A')).toBeCloseTo(0.246244, 6);
    expectClose(expectedEntropies(worlds, low, ['b', 'c', 'd']), [1.318353, 1.132164, 1.318353], 6);

    const middle = afterAnswer(low, at(worlds, 'c'), 1)!;
    expect(bySet(worlds, middle).of('C')).toBeCloseTo(0.492488, 6);
    expectClose(expectedEntropies(worlds, middle, ['b', 'd']), [1.131792, 0.137189], 6);

    const last = afterAnswer(middle, at(worlds, 'd'), 1)!;
    expect(bySet(worlds, last).of('C')).toBeCloseTo(0.984975, 6);
  });

  it('are probed nearer to a part that breaks more often', () => {
    const uneven = worldsWith([0.025, 0.01, 0.01, 0.01]);
    const low = afterAnswer(uneven.masses, at(uneven.worlds, 'e'), 0)!;
    expect(bySet(uneven.worlds, low).of('A')).toBeCloseTo(0.449558, 6);
    expectClose(expectedEntropies(uneven.worlds, low, ['b', 'c', 'd']), [1.0219, 1.07082, 1.328162], 6);
  });
});
