import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import { createLibrary } from '../../src/library/create-library.ts';
import { midi, predictNote, SOURCE_MARKS } from '../../src/mechanism/index.ts';
import { InstrumentDetail } from '../../src/web/instrument-schema.ts';

const content = loadContent(new URL('../../flows', import.meta.url).pathname);
const library = createLibrary(content);
const alto = library.instrument('alto-saxophone');
const { instrument } = content.instruments.get('alto-saxophone')!;
const faultOf = (id: string) => alto.faults.find((fault) => fault.id === id)!;
const effectsOf = (id: string) => faultOf(id).effects.map(({ notes, how }) => `${notes}: ${how}`);

/** The first instrument of each family. */
const families = new Map(
  library
    .instruments()
    .toReversed()
    .map(({ id, family }) => [family, id]),
);

describe('what a fault does to the notes', () => {
  test('is what the mechanism predicts, for every fingering and no other', () => {
    fc.assert(
      fc.property(fc.constantFrom(...alto.faults), ({ id, severity, effects }) => {
        const placed = [{ fault: instrument.fault(id), severity: severity as 'moderate' }];
        const told = new Map(
          effects.flatMap((effect) => effect.fingerings.map((fingering) => [fingering, effect] as const)),
        );
        for (const fingering of instrument.fingerings) {
          const { degree, octaveUp, sounded } = predictNote(instrument, fingering, placed);
          const shift = sounded === null ? null : sounded - midi(fingering.note);
          const effect = told.get(fingering.id) ?? { degree: 'none', nextRegister: false, shift: null };
          expect(effect, fingering.id).toMatchObject({ degree, nextRegister: octaveUp, shift });
        }
      }),
      { numRuns: 40 },
    );
  });

  test('is said in runs of neighbours, with the note that comes instead', () => {
    expect(effectsOf('sticks@cup.gsharp')).toEqual([
      'low G sharp, high G sharp: gives the note a half step lower, cleanly',
    ]);
    expect(effectsOf('sticks@cup.high-fsharp')).toEqual(['high F sharp: gives high F, cleanly']);
    expect(effectsOf('slack@link.neck-ring')).toEqual(['high A to high F sharp: clear']);
  });

  test('names another fingering only where it fares unlike the standard one of its note', () => {
    expect(effectsOf('slack@link.fsharp-holds-bis')).toEqual(['high B flat, one-and-one B flat: slight']);
    expect(faultOf('sticks@cup.high-fsharp').spared).toBe('high F sharp, front F sharp');
    expect(faultOf('blocked@cup.oct-neck').spared).toBe('high E, front E');
    expect(faultOf('leaks@cup.oct-neck').spared).toBe('');
  });
});

describe.each([...families])('the description of the first of the family %s', (_, id) => {
  const detail = library.instrument(id);

  test('fits its schema, and is made once', () => {
    expect(InstrumentDetail.parse(detail)).toEqual(detail);
    expect(library.instrument(id)).toBe(detail);
  });

  test('lists every source that it names, once, and no other', () => {
    const named = new Set<string>();
    JSON.stringify(detail, (key, value) => {
      if (key === 'source') for (const source of value) named.add(source);
      return value;
    });
    const marks: readonly string[] = SOURCE_MARKS;
    expect(detail.sources.map((source) => source.id).toSorted()).toEqual(
      [...named].filter((source) => !marks.includes(source)).toSorted(),
    );
    for (const { title } of detail.sources) expect(title).not.toBe('');
  });

  test('names parts, fingerings and checks that there are, and leaves no blank unfilled', () => {
    const fingerings = new Set(detail.fingerings.map((fingering) => fingering.id));
    const checks = new Set(detail.checks.map((check) => check.id));
    for (const { place, effects, provedBy } of detail.faults) {
      expect(content.instruments.get(id)!.instrument.hasPart(place)).toBe(true);
      for (const { fingerings: suffering } of effects)
        expect(suffering.filter((fingering) => !fingerings.has(fingering))).toEqual([]);
      expect(provedBy.filter(({ check }) => !checks.has(check))).toEqual([]);
    }
    expect(detail.playTest.order.filter((fingering) => !fingerings.has(fingering))).toEqual([]);
    expect(JSON.stringify(detail).match(/\{\{[^}]*\}\}/g)).toBeNull();
  });
});
