import { describe, expect, it } from 'vitest';
import { type Fingering, predictNote, sharedByFailing, ventStates } from '../../src/mechanism/index.ts';
import { predictLosses } from '../../src/mechanism/note-effect.ts';
import { alto, answer, placed, speaks, standardFingerings, troubled } from './support/alto.ts';

const BACKED_OUT = 'slack@link.fsharp-holds-gsharp';
const TOO_FAR = 'tight@link.fsharp-holds-gsharp';
const LOOK_ALIKE = 'slack@link.fsharp-holds-bis';
const TABLE = ['touch.gsharp', 'touch.low-csharp', 'touch.low-b', 'touch.low-bb'];
const RIGHT_STACK = ['touch.rh1', 'touch.rh2', 'touch.rh3'];
const LEFT_STACK = ['touch.lh1', 'touch.lh2', 'touch.lh3'];

const isOpen = (vent: string, touches: readonly string[]) =>
  ventStates(alto, touches, [])[alto.vents.findIndex(({ id }) => id === vent)]!.open;

// Every check in this file: common practice, no source.
describe('the screw between the right-hand stack and the G sharp cup', () => {
  it('(a) backed out: low D and C speak while low C sharp, B and B flat fail', () => {
    for (const severity of ['moderate', 'gross'] as const) {
      for (const id of ['fg.D4', 'fg.Eb4', 'fg.C4'])
        expect(speaks(answer(id, BACKED_OUT, severity)), id).toBe(true);
      for (const id of ['fg.Cs4', 'fg.B3', 'fg.Bb3']) {
        expect(['clear', 'severe'], id).toContain(answer(id, BACKED_OUT, severity).degree);
      }
    }
    expect(troubled(BACKED_OUT, 'gross', standardFingerings)).toEqual(['fg.Bb3', 'fg.B3', 'fg.Cs4']);
  });

  it.each(TABLE)(
    '(b) %s opens the G sharp cup with the right hand up and must not move it with the right hand down',
    (touch) => {
      expect(isOpen('cup.gsharp', [...LEFT_STACK, touch])).toBe(true);
      for (const finger of RIGHT_STACK)
        expect(isOpen('cup.gsharp', [...LEFT_STACK, finger, touch])).toBe(false);
    },
  );

  it('(c) true: holding low D and adding the G sharp touch changes nothing', () => {
    const { touches } = alto.fingering('fg.D4');
    expect(ventStates(alto, [...touches, 'touch.gsharp'], [])).toEqual(ventStates(alto, touches, []));
  });

  it('(c) nearly true: low C shows the remaining trace better than D', () => {
    const trace = [placed(BACKED_OUT, 'slight')];
    const onC = predictLosses(alto, alto.fingering('test.C4+gsharp'), trace);
    const onD = predictLosses(alto, alto.fingering('test.D4+gsharp'), trace);
    expect(onC.first).toBeGreaterThan(onD.first);
  });

  it('(d) turned in too far: every note that uses the right-hand stack suffers and none above', () => {
    const usesStack = standardFingerings.filter(({ touches }) =>
      touches.some((touch) => RIGHT_STACK.includes(touch)),
    );
    expect(troubled(TOO_FAR, 'gross', standardFingerings)).toEqual(usesStack.map(({ id }) => id));
    expect(usesStack.length).toBe(14);
  });

  it('(e) is no plain leak: a leaking pad that spoils low C sharp spoils low C too, so a good C beside a bad C sharp rules it out', () => {
    const leaks = alto.faults.filter(({ kind }) => ['leaks', 'bent', 'pad-lost'].includes(kind));
    for (const { id } of leaks) {
      const isPlainLeak = speaks(answer('fg.Cs4', id)) || !speaks(answer('fg.C4', id));
      expect(isPlainLeak, id).toBe(true);
    }
  });

  it('(e) a leaking tone-hole pad spoils every low-register note from the first bad one down, but for the note it vents itself', () => {
    const low = standardFingerings.filter(({ register }) => register === 1);
    for (const vent of alto.vents.filter(({ note }) => note !== null)) {
      const bad = troubled(`leaks@${vent.id}`, 'gross', low);
      const good = low.filter(({ id }) => !bad.includes(id));
      const highestBad = low.findLastIndex(({ id }) => bad.includes(id));
      for (const fingering of good.filter((item) => low.indexOf(item) < highestBad)) {
        expect(ownHole(fingering), `${vent.id}, ${fingering.note}`).toBe(vent.id);
      }
    }
  });

  it('(f) has a look-alike beside it that rules only the one-and-one B flat and its sisters', () => {
    expect(alto.link('link.fsharp-holds-gsharp').adjuster.lookAlike).toBe('link.fsharp-holds-bis');
    expect(alto.link('link.fsharp-holds-bis').adjuster.lookAlike).toBe('link.fsharp-holds-gsharp');
    expect(troubled(LOOK_ALIKE).sort()).toEqual([
      'fg.Bb4-1and1',
      'fg.Bb4-1and2',
      'fg.Bb4-1and3',
      'fg.Bb5-1and1',
    ]);
    expect(['none', 'slight']).toContain(answer('fg.Bb4-1and1', LOOK_ALIKE, 'slight').degree);
  });

  it('(f) the look-alike is confirmed by holding one-and-one and tapping the bis touch, which clears it', () => {
    const fingering = alto.fingering('fg.Bb4-1and1');
    const tapped: Fingering = { ...fingering, touches: [...fingering.touches, 'touch.bis'] };
    const faults = [placed(LOOK_ALIKE)];
    expect(speaks(predictNote(alto, fingering, faults))).toBe(false);
    expect(speaks(predictNote(alto, tapped, faults))).toBe(true);
  });

  it('(g) leaves B natural and the other B flats alone when the look-alike is backed out', () => {
    for (const id of ['fg.B4', 'fg.B5', 'fg.Bb4-side', 'fg.Bb4-bis', 'fg.Bb5-side', 'fg.Bb5-bis']) {
      expect(speaks(answer(id, LOOK_ALIKE)), id).toBe(true);
    }
  });

  it('is the one thing that low C sharp, B and B flat share and low D and C lack', () => {
    const failing = ['fg.Cs4', 'fg.B3', 'fg.Bb3'].map(alto.fingering);
    const speaking = ['fg.G4', 'fg.Gs4', 'fg.F4', 'fg.D4', 'fg.C4'].map(alto.fingering);
    expect(sharedByFailing(alto, failing, speaking)).toEqual([
      { part: 'link.fsharp-holds-gsharp', sort: 'link', relation: 'depends-on' },
    ]);
  });

  function ownHole({ touches }: Fingering): string | undefined {
    return alto.vents.find(({ note, id }) => note !== null && isOpen(id, touches))?.id;
  }
});
