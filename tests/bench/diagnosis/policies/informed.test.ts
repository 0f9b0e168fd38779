import { describe, expect, it } from 'vitest';
import type { Person } from '../../../../src/diagnosis/index.ts';
import { openLaboratory } from '../run-case.ts';
import { drawCase } from '../simulator/case.ts';
import { answerCheck } from '../simulator/inspector.ts';
import { playNote } from '../simulator/player.ts';
import { normalBelow } from './informed.ts';

const laboratory = openLaboratory();
const stock = laboratory.stock('alto-saxophone');
const { model } = stock;
const person: Person = 'helper';
const CASES = 600;

describe('the normal distribution function', () => {
  // Quantiles of the standard normal distribution: NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.1 (from memory).
  it.each([
    [0, 0.5],
    [1.644854, 0.95],
    [1.959964, 0.975],
    [-2.326348, 0.01],
  ])('of %f is %f', (value, chance) => {
    expect(normalBelow(value)).toBeCloseTo(chance, 5);
  });
});

describe.each([1, 2])('the rates of people who err %f times as strongly', (noise) => {
  const { people } = laboratory.informed('alto-saxophone', person, noise).knowledge;
  const share = (holds: (seed: number) => boolean | null) => {
    const told = Array.from({ length: CASES }, (_, seed) => holds(seed)).filter((one) => one !== null);
    return told.filter((one) => one).length / told.length;
  };
  const theCase = (seed: number) => drawCase(stock, seed + 1, person, { weather: { noise, cannotTell: 0 } });

  it('say as often as the simulated people that a note of a sound instrument wavers', () => {
    const fingering = model.instrument.fingerings.find(
      ({ note, kind }) => note === 'B4' && kind === 'standard',
    )!;
    const wavers = share((seed) => {
      const the = theCase(seed);
      if (the.truth.unlisted !== null) return null;
      const { answered } = playNote(the, fingering, []);
      return answered === 'could-not-tell' ? null : answered === 'unsteady';
    });
    expect(Math.abs(people.notes.answers.none.unsteady - wavers)).toBeLessThan(0.06);
  });

  it('say as often as the simulated people that a sound part shows something', () => {
    const { planned } = model.predictions(model.positionOf('look@cup.d'));
    const shows = share((seed) => {
      const said = answerCheck(theCase(seed), model, 'look@cup.d', []);
      const answer = planned.check.answers.findIndex(({ id }) => id === said);
      return answer === -1 ? null : answer !== planned.quiet;
    });
    const { falseYes } = people.senses[planned.sense]!;
    const slips = people.blur[person].checks;
    expect(Math.abs((1 - slips) * falseYes + slips / 2 - shows)).toBeLessThan(0.04);
  });
});

describe('an engine that knows the rates', () => {
  it('expects more false alarms and more misses where people err more', () => {
    const reckoned = model.knowledge.people.senses.look!;
    const known = laboratory.informed('alto-saxophone', person, 2).knowledge.people.senses.look!;
    expect(known.falseYes).toBeGreaterThan(reckoned.falseYes);
    expect(known.seen.moderate).toBeLessThan(reckoned.seen.moderate);
  });
});
