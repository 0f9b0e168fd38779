import { describe, expect, it } from 'vitest';
import {
  buildInstrument,
  FingeringsFile,
  MechanismError,
  MechanismFile,
  SOURCE_MARKS,
} from '../../src/mechanism/index.ts';
import { readAlto, readSources } from './support/alto.ts';

type Alto = ReturnType<typeof readAlto>;

/** The problems that the alto's data have once broken in some way. */
function problemsAfter(breakIt: (data: Alto) => void): readonly string[] {
  const data = readAlto();
  breakIt(data);
  try {
    buildInstrument(data.mechanism, data.fingerings);
  } catch (error) {
    if (error instanceof MechanismError) return error.problems;
    throw error;
  }
  return [];
}

const find = <Item extends { id: string }>(items: Item[], id: string) =>
  items.find((item) => item.id === id)!;

describe('data that do not hold together', () => {
  it('are not those of the alto', () => {
    expect(problemsAfter(() => {})).toEqual([]);
  });

  it.each<[string, (data: Alto) => void, RegExp]>([
    [
      'a motion to an unknown cup',
      ({ mechanism }) => {
        mechanism.touches[2]!.moves[0]!.part = 'cup.nowhere';
      },
      /moves cup\.nowhere, which is no cup or key: correct the id/,
    ],
    [
      'a motion through an unknown link',
      ({ mechanism }) => {
        mechanism.touches[2]!.moves[0]!.link = 'link.nowhere';
      },
      /through link\.nowhere, which is not listed: add the link/,
    ],
    [
      'a motion that disagrees with its link',
      ({ mechanism }) => {
        find(mechanism.keys, 'bar.fsharp').moves[1]!.action = 'opens';
      },
      /make the two agree/,
    ],
    [
      'a condition on a link that does not switch',
      ({ mechanism }) => {
        mechanism.touches[0]!.moves[0]!.when!.link = 'link.neck-ring';
      },
      /no link that switches/,
    ],
    [
      'a switch that nothing drives',
      ({ mechanism }) => {
        delete find(mechanism.links, 'link.g-switches-octave').drivenBy;
      },
      /nothing drives it/,
    ],
    [
      'a switch driven by an unknown touch',
      ({ mechanism }) => {
        find(mechanism.links, 'link.g-switches-octave').drivenBy = ['touch.nowhere'];
      },
      /driven by touch\.nowhere/,
    ],
    [
      'a link that is no switch but has a driver',
      ({ mechanism }) => {
        find(mechanism.links, 'link.neck-ring').drivenBy = ['touch.octave'];
      },
      /does not switch/,
    ],
    [
      'a link that no motion names',
      ({ mechanism }) => {
        delete find(mechanism.touches, 'touch.rh1').moves[1]!.link;
      },
      /link\.f-closes-fsharp is used by no motion/,
    ],
    [
      'a look-alike that is not there',
      ({ mechanism }) => {
        find(mechanism.links, 'link.neck-ring').adjuster.lookAlike = 'link.nowhere';
      },
      /looks like link\.nowhere/,
    ],
    [
      'two parts of one id',
      ({ mechanism }) => {
        mechanism.vents[3]!.id = 'cup.palm-f';
      },
      /cup\.palm-f is there twice/,
    ],
    [
      'a tone hole without a note',
      ({ mechanism }) => {
        mechanism.vents[3]!.note = null;
      },
      /cup\.side-e must have a note/,
    ],
    [
      'a vent not above the lowest note',
      ({ mechanism }) => {
        find(mechanism.vents, 'cup.low-bb').note = 'Bb3';
      },
      /not above the lowest note/,
    ],
    [
      'a bore stretch after an unknown cup',
      ({ mechanism }) => {
        mechanism.bores[0]!.after = 'cup.nowhere';
      },
      /lies after cup\.nowhere/,
    ],
    [
      'a cause whose notes run downward',
      ({ mechanism }) => {
        mechanism.causes[0]!.effects[0]!.to = 'A3';
      },
      /runs downward/,
    ],
    [
      'a fingering with an unknown touch',
      ({ fingerings }) => {
        fingerings.fingerings[0]!.touches.push('touch.low-a');
      },
      /fg\.Bb3 uses touch\.low-a/,
    ],
    [
      'a play test with an unknown fingering',
      ({ fingerings }) => {
        fingerings.playTest.order.push('fg.A3');
      },
      /asks for fg\.A3/,
    ],
    [
      'keys that drive each other in a circle',
      ({ mechanism }) => {
        find(mechanism.keys, 'key.b').moves.push({ part: 'lever.gsharp', action: 'raises' });
        find(mechanism.keys, 'lever.gsharp').moves.push({ part: 'key.b', action: 'presses' });
      },
      /drives itself in a circle/,
    ],
  ])('name %s and say what to do', (_, breakIt, message) => {
    expect(problemsAfter(breakIt).join('\n')).toMatch(message);
  });

  it('list every problem at once', () => {
    const problems = problemsAfter(({ mechanism, fingerings }) => {
      mechanism.bores[0]!.after = 'cup.nowhere';
      fingerings.playTest.order.push('fg.A3');
    });
    expect(problems).toHaveLength(2);
  });
});

describe('the shape of the data', () => {
  it('admits no field of an unknown name', () => {
    const { mechanism, fingerings } = readAlto();
    expect(MechanismFile.safeParse({ ...mechanism, valves: [] }).success).toBe(false);
    expect(FingeringsFile.safeParse({ ...fingerings, chart: [] }).success).toBe(false);
  });

  it('admits no note that is none and no id of the wrong form', () => {
    const { mechanism } = readAlto();
    expect(
      MechanismFile.safeParse({ ...mechanism, vents: [{ ...mechanism.vents[1], note: 'H5' }] }).success,
    ).toBe(false);
    expect(
      MechanismFile.safeParse({ ...mechanism, vents: [{ ...mechanism.vents[1], id: 'vent.high' }] }).success,
    ).toBe(false);
  });

  it('carries for every group a source that is listed, or one of the marks', () => {
    const { mechanism, fingerings } = readAlto();
    const known = new Set<string>([...SOURCE_MARKS, ...readSources().sources.map(({ id }) => id)]);
    const cited = [...JSON.stringify([mechanism, fingerings]).matchAll(/"source":\[([^\]]*)\]/g)].flatMap(
      ([, list]) => JSON.parse(`[${list}]`) as string[],
    );
    expect(cited.length).toBeGreaterThan(200);
    expect(cited.filter((id) => !known.has(id))).toEqual([]);
  });

  it('lists every source once', () => {
    const ids = readSources().sources.map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });
});
