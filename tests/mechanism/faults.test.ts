import { describe, expect, it } from 'vitest';
import { describeFault, listFaults, midi, noteName, severitiesOf } from '../../src/mechanism/index.ts';
import { alto, answer, speaks, standardFingerings, troubled } from './support/alto.ts';

const kindsAt = (place: string) =>
  listFaults(alto)
    .filter((fault) => fault.place === place)
    .map(({ kind }) => kind);
const sounded = (fingering: string, fault: string) => {
  const { sounded: note } = answer(fingering, fault);
  return note === null ? null : noteName(note);
};

describe('the list of faults', () => {
  it('gives each part the kinds that can happen to it', () => {
    expect(kindsAt('link.fsharp-holds-gsharp')).toEqual(['slack', 'tight']);
    expect(kindsAt('cup.g')).not.toContain('held-open');
    expect(kindsAt('cup.palm-d')).toContain('held-open');
    expect(kindsAt('cup.palm-d')).not.toContain('blocked');
    expect(kindsAt('cup.oct-neck')).toContain('blocked');
    expect(kindsAt('lever.gsharp')).toEqual(['spring-off']);
    expect(kindsAt('bar.fsharp')).toEqual([]);
    expect(kindsAt('bore.bow')).toEqual(['object', 'water']);
    expect(kindsAt('bore.bell')).toEqual(['object']);
    expect(kindsAt('joint.neck')).toEqual(['loose']);
    expect(kindsAt('setup.reed')).toEqual(['set-up']);
    expect(kindsAt('player.air')).toEqual(['player']);
  });

  it('has ids of the form kind@place, each once', () => {
    const ids = listFaults(alto).map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const { id, kind, place } of listFaults(alto)) expect(id).toBe(`${kind}@${place}`);
  });

  it('names every fault in plain words, each differently, without sharp signs or ids', () => {
    const titles = listFaults(alto).map((fault) => describeFault(alto, fault));
    expect(new Set(titles).size).toBe(titles.length);
    for (const title of titles) expect(title).toMatch(/^[A-Z][^#@.]+$/);
    expect(describeFault(alto, alto.fault('leaks@cup.palm-d'))).toBe('The pad of the palm D cup leaks');
  });

  it('troubles some fingering with every fault when it is gross, but the hold that only shows with two table touches', () => {
    const silent = listFaults(alto).filter(({ id }) => troubled(id).length === 0);
    expect(silent.map(({ id }) => id)).toEqual(['slack@link.b-holds-csharp']);
  });

  it('grades no fault that is there or not', () => {
    expect(severitiesOf(alto.fault('pad-lost@cup.g'))).toEqual(['gross']);
    expect(severitiesOf(alto.fault('leaks@cup.g'))).toHaveLength(3);
  });
});

describe('how each kind of fault sounds', () => {
  // derived, rule of the stuck cup: what is still open next below sounds.
  it.each([
    ['fg.Gs4', 'cup.gsharp', 'G4'],
    ['fg.Gs5', 'cup.gsharp', 'G5'],
    ['fg.Cs4', 'cup.low-csharp', 'C4'],
    ['fg.Eb4', 'cup.low-eb', 'D4'],
    ['fg.B4', 'cup.bis', 'Bb4'],
    ['fg.Cs5', 'cup.c-small', 'C5'],
    ['fg.C5', 'cup.b', 'A4'],
    ['fg.G4', 'cup.fsharp', 'F#4'],
    ['fg.Fs4', 'cup.f', 'E4'],
    ['fg.D4', 'cup.low-c', 'C4'],
    ['fg.B3', 'cup.low-bb', 'Bb3'],
    ['fg.D6', 'cup.palm-d', 'C#6'],
  ])('%s with the %s stuck shut gives %s', (fingering, cup, note) => {
    expect(sounded(fingering, `sticks@${cup}`)).toBe(note);
    expect(answer(fingering, `sticks@${cup}`).degree).toBe('none');
    expect(answer(fingering, `sticks@${cup}`, 'slight')).toEqual({
      degree: 'slight',
      octaveUp: false,
      sounded: null,
    });
  });

  it('a G sharp cup stuck shut spoils only the notes that speak through it', () => {
    // uglyblog, saxcouk, saxforte: G sharp comes out as G, by every touch; every other note is good.
    expect(troubled('sticks@cup.gsharp')).toEqual(['fg.Gs4', 'fg.Gs5', 'fg.Gs4-B', 'fg.Gs4-Cs', 'fg.Gs4-Bb']);
  });

  it('drops A5 and above to the low octave when the neck pip stays shut, and leaves D5 to G#5 alone', () => {
    // saxlessons, and common practice.
    for (const { id, note, register } of standardFingerings) {
      const isUpper = register === 2 && midi(note) >= midi('A5');
      expect(sounded(id, 'blocked@cup.oct-neck'), note).toBe(isUpper ? noteName(midi(note) - 12) : null);
    }
  });

  it('puts D5 to G#5 on the wrong vent, the lowest worst, when the G key does not switch', () => {
    // sotw-oct, unsw-a5: D5 and E5 above all; A5 up and the low octave good.
    const bad = troubled('slack@link.g-switches-octave', 'gross', standardFingerings);
    expect(bad).toEqual(['fg.D5', 'fg.Eb5', 'fg.E5', 'fg.F5', 'fg.Fs5', 'fg.G5']);
    expect(answer('fg.D5', 'slack@link.g-switches-octave').degree).toBe('clear');
    expect(answer('fg.G5', 'slack@link.g-switches-octave').degree).toBe('slight');
  });

  it('leaves a cup whose opening spring is off shut, and one whose closing spring is off hanging open', () => {
    expect(sounded('fg.G4', 'spring-off@cup.fsharp')).toBe('F#4');
    expect(sounded('fg.C5', 'spring-off@cup.palm-d')).toBe('D5');
    expect(sounded('fg.Gs4', 'spring-off@cup.gsharp')).toBe('G4');
  });

  it('raises the G sharp cup when the spring of its lever is off, but only while the right hand is up', () => {
    expect(sounded('fg.G4', 'spring-off@lever.gsharp')).toBe('G#4');
    for (const id of ['fg.F4', 'fg.D4', 'fg.Bb3', 'fg.A4'])
      expect(speaks(answer(id, 'spring-off@lever.gsharp')), id).toBe(true);
  });

  it('hinders the notes below the place where an object is lodged, and no other', () => {
    // howard-cap: nothing below G; dawkes, wheel: nothing below D.
    const low = standardFingerings.filter(({ register }) => register === 1);
    const notesOf = (fault: string) => troubled(fault, 'gross', low).map((id) => alto.fingering(id).note);
    expect(notesOf('object@bore.body')).toEqual(['Bb3', 'B3', 'C4', 'C#4', 'D4', 'Eb4', 'E4', 'F4', 'F#4']);
    expect(notesOf('object@bore.bow')).toEqual(['Bb3', 'B3', 'C4', 'C#4']);
    expect(notesOf('object@bore.neck')).toHaveLength(low.length);
  });

  it('troubles the whole low register, the low notes most, when the neck joint leaks', () => {
    // irwin, dequelery, howard-buzz: no finger boundary, low notes worst.
    expect(answer('fg.Bb3', 'loose@joint.neck', 'slight').degree).toBe('slight');
    expect(answer('fg.Cs5', 'loose@joint.neck', 'slight').degree).toBe('none');
    expect(troubled('loose@joint.neck', 'moderate', standardFingerings).length).toBeGreaterThanOrEqual(16);
  });

  it('grades a cause of the set-up by its severity and by the range of notes', () => {
    expect(answer('fg.C4', 'set-up@setup.reed', 'slight').degree).toBe('slight');
    expect(answer('fg.C4', 'set-up@setup.reed', 'moderate').degree).toBe('clear');
    expect(answer('fg.C4', 'set-up@setup.reed', 'gross').degree).toBe('severe');
    expect(answer('fg.A4', 'set-up@setup.reed', 'slight').degree).toBe('none');
    expect(answer('fg.C4', 'player@player.embouchure', 'moderate').octaveUp).toBe(true);
  });

  it('spoils front fingerings, whose note no single hole sets, by whatever stands wrong in their column', () => {
    expect(answer('fg.F6-front', 'slack@link.frontf-closes-b').degree).toBe('severe');
    expect(answer('fg.F6-front', 'leaks@cup.palm-eb', 'slight').degree).toBe('slight');
    expect(answer('fg.F6-front', 'leaks@cup.palm-eb', 'moderate').degree).toBe('severe');
    expect(answer('fg.F6-front', 'leaks@cup.low-b').degree).toBe('none');
    expect(answer('fg.E6-front', 'loose@joint.neck', 'moderate').degree).toBe('severe');
  });
});
