import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import { alternateFingerings, type Instrument, midi, noteName } from '../../src/mechanism/index.ts';
import charts from './published/brass-charts.json' with { type: 'json' };
import { answerOf, fingeringWith, partialOf, touchesOf } from './support/brass.ts';

// Sources stand beside each table in published/brass-charts.json.
const { instruments } = loadContent(new URL('../../flows', import.meta.url).pathname);
const instrumentOf = (id: string): Instrument => instruments.get(id)!.instrument;

describe('the trombone against its published positions', () => {
  const trombone = instrumentOf('trombone');

  it.each(charts.trombone.rows)('plays $note in position $position on partial $partial', (row) => {
    const fingering = fingeringWith(trombone, row.note, '0', row.position);
    expect(fingering.kind).toBe('standard');
    expect(partialOf(trombone, fingering)).toBe(row.partial);
  });

  it.each(charts.trombone.rows.filter(({ alternates }) => alternates.length > 0))(
    'finds $note farther out on another partial',
    ({ note, alternates }) => {
      for (const { fingers, partial } of alternates)
        expect(partialOf(trombone, fingeringWith(trombone, note, '0', Number(fingers)))).toBe(partial);
    },
  );

  it('begins the play test with one partial, from the first position to the seventh', () => {
    const first = trombone.playTest.slice(0, 7);
    expect(first.map(({ position }) => position)).toEqual([1, 2, 3, 4, 5, 6, 7]);
    expect(new Set(first.map((fingering) => partialOf(trombone, fingering))).size).toBe(1);
  });

  it('notes get worse with the slide out where its tubes are dented', () => {
    const [near, far] = [fingeringWith(trombone, 'Bb3', '0', 1), fingeringWith(trombone, 'B2', '0', 7)];
    expect(answerOf(trombone, near, 'dented@slide.hand').degree).toBe('slight');
    expect(answerOf(trombone, far, 'dented@slide.hand').degree).toBe('clear');
  });

  it('with the F attachment plays the sixth position’s notes in the first, and only these suffer from its loop', () => {
    const attached = instrumentOf('trombone-f-attachment');
    const [f2, c3] = ['F2', 'C3'].map((note) =>
      attached.fingerings.find((one) => one.note === note && one.touches.length === 1),
    );
    expect([f2!.position, c3!.position]).toEqual([1, 1]);
    const failing = attached.fingerings.filter(
      (fingering) => answerOf(attached, fingering, 'water@slide.f-loop').degree !== 'none',
    );
    expect(failing.every(({ touches }) => touches.length === 1)).toBe(true);
    expect(failing).toHaveLength(4);
  });
});

describe('the double horn against its published fingerings', () => {
  const horn = instrumentOf('double-horn');

  it.each(charts.horn.rows)(
    'plays $note with $fingers on partial $partial',
    ({ note, sounds, fingers, partial }) => {
      const fingering = fingeringWith(horn, note, fingers);
      expect(fingering.kind).toBe('standard');
      expect(partialOf(horn, fingering)).toBe(partial);
      expect(midi(note) + horn.transposition.semitones).toBe(midi(sounds));
    },
  );

  it.each(charts.horn.rows)('finds $note on the other side as published', ({ note, alternates }) => {
    for (const { fingers, partial } of alternates)
      expect(partialOf(horn, fingeringWith(horn, note, fingers))).toBe(partial);
  });

  it('hides a thumb valve that does not move exactly where the same valves give the note on both sides', () => {
    const dead = (note: string, fingers: string) =>
      answerOf(
        horn,
        fingeringWith(horn, note, fingers),
        fingers.startsWith('T') ? 'seized@valve.thumb' : 'spring-broken@valve.thumb',
        'gross',
      ).sounded;
    for (const { note, fingers, sameOnBothSides } of charts.horn.rows)
      if (sameOnBothSides) expect(dead(note, fingers), note).toBeNull();
  });

  it('has a slide of either side fail on that side alone, and a rotor on both', () => {
    const [onF, onBb] = [fingeringWith(horn, 'D4', '1'), fingeringWith(horn, 'D5', 'T12')];
    const degrees = (fault: string) => [onF, onBb].map((one) => answerOf(horn, one, fault).degree);
    expect(degrees('water@slide.first-f')).toEqual(['clear', 'none']);
    expect(degrees('water@slide.first-bb')).toEqual(['none', 'clear']);
    expect(degrees('down-stop@valve.first')).toEqual(['clear', 'clear']);
  });
});

describe('low brass, fingered as the trumpet', () => {
  it.each(charts.lowBrass.rows)(
    'sounds $euphonium and $tuba with $fingers',
    ({ fingers, trumpet, euphonium, tuba }) => {
      const [treble, bass, low] = ['euphonium-treble', 'euphonium', 'tuba'].map(instrumentOf);
      expect(fingeringWith(treble!, trumpet, fingers).kind).toBe('standard');
      expect(fingeringWith(bass!, euphonium, fingers).kind).toBe('standard');
      expect(fingeringWith(low!, tuba, fingers).kind).toBe('standard');
      expect(midi(trumpet) + treble!.transposition.semitones).toBe(midi(euphonium));
    },
  );

  it.each(['tuba', 'sousaphone'])('is fingered as the published chart says: %s', (id) => {
    const instrument = instrumentOf(id);
    const standard = instrument.fingerings.filter(({ kind }) => kind === 'standard');
    expect(charts.tuba.rows.map(({ note }) => midi(note))).toEqual(
      standard.map(({ note }) => midi(note)).toSorted((one, other) => one - other),
    );
    for (const { note, fingers } of charts.tuba.rows)
      expect(fingeringWith(instrument, note, fingers[0]!).kind, note).toBe('standard');
  });

  it.each(['euphonium-4-valves', 'tuba-4-valves'])(
    'has a way round a dead first valve with the fourth: %s',
    (id) => {
      const instrument = instrumentOf(id);
      const dead = [{ fault: instrument.fault('seized@valve.first'), severity: 'gross' as const }];
      const withFirstAndThird = instrument.fingerings.filter(
        ({ kind, touches }) =>
          kind === 'standard' && [...touches].sort().join() === touchesOf('13').sort().join(),
      );
      const ways = withFirstAndThird.map(({ note }) => alternateFingerings(instrument, note, dead));
      expect(ways.flat().map(({ touches }) => touches)).toContainEqual(['touch.fourth']);
    },
  );

  it('spells the moved notes as band musicians read them, and keeps one fingering a note', () => {
    const { fingerings } = instrumentOf('tuba');
    for (const { note } of fingerings) expect(note).toBe(noteName(midi(note)));
    expect(new Set(fingerings.map(({ id }) => id)).size).toBe(fingerings.length);
  });
});
