import { describe, expect, it } from 'vitest';
import { alternateFingerings, partsOf, sharedByFailing } from '../../src/mechanism/index.ts';
import { alto, placed } from './support/alto.ts';

const waysRound = (note: string, ...faults: string[]) =>
  alternateFingerings(
    alto,
    note,
    faults.map((fault) => placed(fault)),
  ).map(({ id }) => id);

describe('alternate fingerings until it is mended', () => {
  it('offers the side and bis B flats in other spellings too, but not the one that fails', () => {
    expect(waysRound('Bb4', 'slack@link.fsharp-holds-bis')).toEqual(['fg.Bb4-bis']);
    expect(waysRound('A#4', 'slack@link.fsharp-holds-bis')).toEqual(['fg.Bb4-bis']);
  });

  it('offers the side F sharp when the E key does not bring the F sharp cup down', () => {
    expect(waysRound('F#4', 'slack@link.e-closes-fsharp')).toEqual(['fg.Fs4-side', 'fg.Fs4-rh3']);
  });

  it('offers nothing where every way needs the faulty part, and nothing for a note that is none', () => {
    expect(waysRound('G#4', 'sticks@cup.gsharp')).toEqual([]);
    expect(waysRound('Bb3', 'slack@link.bb-closes-b')).toEqual([]);
    expect(waysRound('H4')).toEqual([]);
  });
});

describe('what the failing notes share', () => {
  const shared = (failing: string[], speaking: string[]) =>
    sharedByFailing(alto, failing.map(alto.fingering), speaking.map(alto.fingering)).map(
      ({ relation, part }) => `${relation} ${part}`,
    );

  it('is the A key’s hold on the bis cup when A, G and G sharp fail but F sharp and B speak', () => {
    expect(shared(['fg.A4', 'fg.G4', 'fg.Gs4'], ['fg.Fs4', 'fg.F4', 'fg.B4', 'fg.C5'])).toEqual([
      'depends-on link.a-closes-bis',
    ]);
  });

  it('is the hole they speak through when both G sharps fail', () => {
    expect(shared(['fg.Gs4', 'fg.Gs5', 'fg.Gs4-B'], ['fg.G4', 'fg.A4', 'fg.Bb3', 'fg.G5'])).toEqual([
      'needs-open cup.gsharp',
    ]);
  });

  it('is the neck pip and its ring when everything from A5 up drops', () => {
    expect(shared(['fg.A5', 'fg.C6', 'fg.D6'], ['fg.A4', 'fg.G5', 'fg.D5'])).toEqual([
      'depends-on link.neck-ring',
      'needs-open cup.oct-neck',
    ]);
  });

  it('is nothing when nothing fails, or when the failing notes have no such part', () => {
    expect(shared([], ['fg.G4'])).toEqual([]);
    expect(shared(['fg.D4'], ['fg.D4'])).toEqual([]);
  });

  it('counts the keys that a fingering works among its parts', () => {
    const worked = partsOf(alto, alto.fingering('fg.Cs4')).filter(({ relation }) => relation === 'works');
    expect(worked.map(({ part }) => part).sort()).toEqual(['bar.fsharp', 'key.b', 'lever.gsharp']);
  });
});

describe('finding one’s way in the instrument', () => {
  it('tells what drives a link and what it drives, for a switch the vents that it swaps', () => {
    const ends = (id: string) => {
      const { drivers, targets } = alto.linkEnds(id);
      return [drivers.map((part) => part.id), targets.map((part) => part.id)];
    };
    expect(ends('link.fsharp-holds-gsharp')).toEqual([['bar.fsharp'], ['cup.gsharp']]);
    expect(ends('link.b-holds-csharp')).toEqual([['touch.low-b', 'touch.low-bb'], ['cup.low-csharp']]);
    expect(ends('link.g-switches-octave')).toEqual([['touch.lh3'], ['cup.oct-neck', 'cup.oct-body']]);
    expect(() => alto.linkEnds('link.none')).toThrow('no link "link.none"');
  });

  it('tells by which touches a cup is reached, through what', () => {
    expect(alto.touchesOf('cup.fsharp')).toEqual([
      { touch: 'touch.rh1', action: 'closes', through: ['link.f-closes-fsharp', 'bar.fsharp'] },
      { touch: 'touch.rh2', action: 'closes', through: ['link.e-closes-fsharp', 'bar.fsharp'] },
      { touch: 'touch.rh3', action: 'closes', through: ['link.d-closes-fsharp', 'bar.fsharp'] },
    ]);
    expect(
      alto
        .touchesOf('cup.gsharp')
        .filter(({ action }) => action === 'opens')
        .map(({ touch }) => touch),
    ).toEqual(['touch.gsharp', 'touch.low-csharp', 'touch.low-b', 'touch.low-bb']);
    expect(alto.touchesOf('link.g-switches-octave')).toEqual([
      { touch: 'touch.lh3', action: 'works', through: [] },
    ]);
    expect(alto.touchesOf('touch.lh1')).toEqual([{ touch: 'touch.lh1', action: 'works', through: [] }]);
  });

  it('refuses ids that it does not have', () => {
    for (const find of [alto.part, alto.vent, alto.link, alto.fingering, alto.fault, alto.touchesOf]) {
      expect(() => find('cup.low-a')).toThrow(/This instrument has no \w+ "cup\.low-a"/);
    }
    expect(alto.hasPart('cup.low-a')).toBe(false);
    expect(alto.part('cup.g')).toEqual({ sort: 'vent', id: 'cup.g', name: 'G cup' });
  });
});
