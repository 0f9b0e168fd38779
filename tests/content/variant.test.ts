import fc from 'fast-check';
import { Interval, Note } from 'tonal';
import { describe, expect, it } from 'vitest';
import { assembleContent, ContentError, type Documents, loadContent } from '../../src/content/index.ts';
import { columnOf, frequency, midi, predictNote, soundingMidi } from '../../src/mechanism/index.ts';

const content = loadContent(new URL('../../flows', import.meta.url).pathname);
const instrument = (id: string) => content.instruments.get(id)!.instrument;
const alto = instrument('alto-saxophone');
const saxophones = [...content.instruments.values()].filter(
  ({ instrument: { family } }) => family === 'saxophone',
);

/** The documents with one variant more or less than it was. */
const withVariant = (id: string, variant: object): Documents => ({
  ...content.documents,
  [`instruments/${id}/variant.yaml`]: variant,
});
const plain = {
  variantOf: 'alto-saxophone',
  instrument: { id: 'other', name: 'Other', source: ['estimate'] },
};

function problemsOf(variant: object, id = 'other'): string[] {
  try {
    assembleContent(withVariant(id, variant));
  } catch (error) {
    if (error instanceof ContentError)
      return error.problems.map(({ file, message }) => `${file}: ${message}`);
    throw error;
  }
  return [];
}

describe('an instrument told by what differs from another one', () => {
  it('is the other one where nothing differs but its name', () => {
    const other = assembleContent(withVariant('other', plain)).instruments.get('other')!;
    expect({ ...other.instrument, id: '', name: '' }).toMatchObject({
      vents: alto.vents,
      touches: alto.touches,
      keys: alto.keys,
      links: alto.links,
      fingerings: alto.fingerings,
      playTest: alto.playTest,
      faults: alto.faults,
    });
    expect(other.model.hypotheses.count).toBe(
      content.instruments.get('alto-saxophone')!.model.hypotheses.count,
    );
  });

  it('is read in the clef of the other one, also as the variant of a variant, unless it names another', () => {
    const clefs = (
      ['trombone', 'trombone-f-attachment', 'euphonium', 'euphonium-4-valves', 'tuba-4-valves'] as const
    ).map((id) => instrument(id).clef);
    expect(clefs).toEqual(['bass', 'bass', 'bass', 'bass', 'bass']);
    const tenor = {
      variantOf: 'trombone',
      instrument: { id: 'other', name: 'Other', clef: 'tenor', source: ['estimate'] },
    };
    const { instruments } = assembleContent(withVariant('other', tenor));
    expect(instruments.get('other')!.instrument.clef).toBe('tenor');
  });

  it('loses with a touch the fingerings that need it, and with a cup its faults, frequencies and place', () => {
    const variant = {
      ...plain,
      without: ['cup.high-fsharp', 'touch.high-fsharp'],
      instrument: { ...plain.instrument, range: { lowest: 'Bb3', highest: 'F6' } },
    };
    const { instrument: other, layout } = assembleContent(withVariant('other', variant)).instruments.get(
      'other',
    )!;
    expect(other.fingerings.some(({ touches }) => touches.includes('touch.high-fsharp'))).toBe(false);
    expect(other.fingerings.length).toBeLessThan(alto.fingerings.length);
    expect(other.faults.some(({ place }) => place === 'cup.high-fsharp')).toBe(false);
    expect(layout.vents['cup.high-fsharp']).toBeUndefined();
  });

  it('can be without any one adjustable place: what is left still hangs together', () => {
    fc.assert(
      fc.property(fc.constantFrom(...alto.links.filter(({ action }) => action !== 'switches')), (link) => {
        const variant = { ...plain, without: [link.id] };
        const other = assembleContent(withVariant('other', variant)).instruments.get('other')!.instrument;
        expect(other.links.map(({ id }) => id)).toEqual(
          alto.links.filter(({ id }) => id !== link.id).map(({ id }) => id),
        );
      }),
      { numRuns: 6 },
    );
  });

  it.each([
    [{ without: ['cup.none'] }, 'names "cup.none"'],
    [{ change: { 'cup.none': {} } }, 'changes "cup.none"'],
    [{ change: { 'cup.b': { rest: 'ajar' } } }, 'must be one of open, closed'],
    [{ add: { vents: [{ after: 'cup.none', vent: alto.vents[0] }] } }, 'lies beside "cup.none"'],
    [{ add: { fingerings: [{ playAfter: 'fg.none', fingering: alto.fingerings[0] }] } }, 'names "fg.none"'],
    [{ without: ['touch.rh1'], playTest: { order: ['fg.F4'], source: ['estimate'] } }, 'fg.F4'],
    [{ variantOf: 'kazoo' }, 'is told from "kazoo"'],
    [{ variantOf: 'other' }, 'one of them must be told in full'],
  ])('says in its own file what does not fit: %j', (change, message) => {
    const problems = problemsOf({ ...plain, ...change });
    expect(problems.join('\n')).toContain(message);
    expect(problems.every((problem) => problem.startsWith('instruments/other/variant.yaml'))).toBe(true);
  });

  it('is not told in two ways at once', () => {
    expect(problemsOf(plain, 'alto-saxophone').join()).toContain('keep one way of telling it');
  });
});

describe('the saxophones', () => {
  // Transpositions as any orchestration handbook gives them (common practice, no source); the interval arithmetic is that of
  // tonal 6.4.3, a general-purpose music-theory library.
  it.each([
    ['soprano-saxophone', '-2M'],
    ['soprano-saxophone-one-piece', '-2M'],
    ['alto-saxophone', '-6M'],
    ['tenor-saxophone', '-9M'],
    ['baritone-saxophone-low-bb', '-13M'],
    ['baritone-saxophone', '-13M'],
  ])('%s sounds %s from what is written', (id, interval) => {
    const { fingerings, transposition } = instrument(id);
    expect(transposition.semitones).toBe(Interval.semitones(interval));
    for (const { note } of fingerings) {
      const sounding = soundingMidi(midi(note), transposition.semitones);
      expect(frequency(sounding), note).toBeCloseTo(Note.freq(Note.transpose(note, interval))!, 6);
    }
  });

  it.each(saxophones.map(({ instrument: { id } }) => id))(
    'speak every note of the %s through the hole that vents it when nothing is wrong',
    (id) => {
      const it = instrument(id);
      for (const fingering of it.fingerings) {
        expect(predictNote(it, fingering, []), fingering.id).toMatchObject({ degree: 'none', sounded: null });
        if (fingering.register === 3) continue;
        const { firstOpen } = columnOf(it, fingering.touches);
        const vented = firstOpen === null ? it.range.lowest : it.vent(firstOpen).note!;
        expect(midi(vented) + 12 * (fingering.register - 1), fingering.id).toBe(midi(fingering.note));
      }
    },
  );

  it('have every semitone of their range', () => {
    for (const { instrument: it } of saxophones) {
      const standard = new Set(
        it.fingerings.filter(({ kind }) => kind !== 'test').map(({ note }) => midi(note)),
      );
      for (let note = midi(it.range.lowest); note <= midi(it.range.highest); note += 1)
        expect(standard.has(note), `${it.id} ${note}`).toBe(true);
    }
  });

  it('of the baritone: the two links of the low A key, slack, spoil low A and no other standard note', () => {
    // Derived from the published low A fingering (fleidloff; cafe-chaos in flows/sources.yaml).
    const baritone = instrument('baritone-saxophone');
    const standard = baritone.fingerings.filter(({ kind }) => kind === 'standard');
    for (const link of ['link.lowa-closes-bb', 'link.lowa-closes-b']) {
      const slack = { fault: baritone.fault(`slack@${link}`), severity: 'gross' as const };
      const spoiled = standard.filter(
        (fingering) => predictNote(baritone, fingering, [slack]).degree !== 'none',
      );
      expect(
        spoiled.map(({ note }) => note),
        link,
      ).toEqual(['A3']);
    }
  });

  it('of the baritone: a backed-out G sharp screw spoils low B flat and B while low A is good', () => {
    // Derived: the thumb key need not move the G sharp lever.
    const baritone = instrument('baritone-saxophone');
    const slack = { fault: baritone.fault('slack@link.fsharp-holds-gsharp'), severity: 'gross' as const };
    const degree = (id: string) => predictNote(baritone, baritone.fingering(id), [slack]).degree;
    expect(degree('fg.A3')).toBe('none');
    expect([degree('fg.Bb3'), degree('fg.B3')]).not.toContain('none');
  });
});
