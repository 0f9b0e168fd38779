import { describe, expect, it } from 'vitest';
import {
  buildInstrument,
  FingeringsFile,
  MechanismFile,
  type NoteEffect,
  predictNote,
  type Severity,
} from '../../src/mechanism/index.ts';

/**
 * A reed pipe with four holes, as data alone: a finger hole above, a cup that a lever shuts, another below it, and a small
 * hole with a cup that rests closed. It has what a clarinet’s little-finger levers and small holes have, and nothing else.
 */
const source = ['common practice, no source'];
const hole = (id: string, note: string, rest: 'open' | 'closed', more: object = {}) => ({
  id,
  name: id,
  alsoCalled: [],
  rest,
  note,
  spring: rest === 'open' ? 'opens' : 'closes',
  presence: 'all',
  source,
  ...more,
});
const pipe = (acoustics: 'closed-cylinder' | 'cone') =>
  buildInstrument(
    MechanismFile.parse({
      instrument: {
        id: 'test-pipe',
        name: 'Test pipe',
        family: 'clarinet',
        acoustics,
        transposition: { semitones: 0, sounds: 'C' },
        range: { lowest: 'E3', highest: 'A3' },
        source,
      },
      vents: [
        hole('hole.finger', 'A3', 'open', { cover: 'finger' }),
        hole('cup.wet', 'G#3', 'closed', { gathersWater: true }),
        hole('cup.upper', 'G3', 'open'),
        hole('cup.lower', 'F3', 'open'),
      ],
      touches: [
        ['finger', { part: 'hole.finger', action: 'closes' }],
        ['wet', { part: 'cup.wet', action: 'opens' }],
        ['key', { part: 'key.lower', action: 'presses' }],
        ['lever', { part: 'key.lower', action: 'presses', link: 'link.lever' }],
      ].map(([id, motion]) => ({
        id: `touch.${id}`,
        name: id,
        hand: 'left',
        finger: 'little',
        moves: [motion],
        source,
      })),
      keys: [
        {
          id: 'key.lower',
          name: 'lower key',
          hasSpring: false,
          moves: [
            { part: 'cup.lower', action: 'closes' },
            { part: 'cup.upper', action: 'closes', link: 'link.foot' },
          ],
          source,
        },
      ],
      links: ['link.lever', 'link.foot'].map((id) => ({
        id,
        name: id,
        action: 'closes',
        adjuster: { kind: 'cork', text: 'A cork.' },
        presence: 'all',
        work: 'bench',
        slack: { title: 'Too little' },
        tight: { title: 'Too much' },
        source,
      })),
      joints: [],
      bores: [],
      causes: [],
    }),
    FingeringsFile.parse({
      fingerings: [
        ['E3', ['touch.finger', 'touch.lever']],
        ['G3', ['touch.finger']],
        ['G#3', ['touch.finger', 'touch.wet']],
        ['A3', []],
      ].map(([note, touches]) => ({
        id: `fg.${(note as string).replace('#', 's')}`,
        note,
        kind: 'standard',
        register: 1,
        touches,
        source,
      })),
      playTest: { order: ['fg.E3'], source },
    }),
  );
const clarinetLike = pipe('closed-cylinder');

function answers(
  fault: string,
  severity: Severity,
  instrument = clarinetLike,
): Record<string, NoteEffect['degree']> {
  const placed = [{ fault: instrument.fault(fault), severity }];
  return Object.fromEntries(
    instrument.fingerings.map((fingering) => [
      fingering.note,
      predictNote(instrument, fingering, placed).degree,
    ]),
  );
}

describe('notes that vent by several small holes', () => {
  // Rule and example: a cup that hangs low makes its own note stuffy and those up to two semitones above a little dull
  // (the clarinet's E/B and F/C cups); how far up is an estimate.
  it('are stuffy where their own hole is too low, and dull where the next one is', () => {
    expect(answers('opens-too-little@cup.upper', 'moderate')).toEqual({
      E3: 'none',
      G3: 'clear',
      'G#3': 'slight',
      A3: 'slight',
    });
  });

  it('do not care about a hole further down', () => {
    expect(answers('opens-too-little@cup.lower', 'moderate')).toMatchObject({ 'G#3': 'none', A3: 'none' });
  });

  it('are not those of a cone, whose wide holes let all the air out', () => {
    expect(answers('opens-too-little@cup.upper', 'moderate', pipe('cone'))).toMatchObject({
      G3: 'clear',
      'G#3': 'none',
      A3: 'none',
    });
  });
});

describe('a lever that moves one thing only', () => {
  it('presses it a little down at rest where its link is tight, and spoils no note that it fingers', () => {
    expect(answers('tight@link.lever', 'moderate')).toMatchObject({
      E3: 'none',
      G3: 'clear',
      'G#3': 'slight',
    });
  });

  it('leaves it short where its link is slack', () => {
    const { E3, ...others } = answers('slack@link.lever', 'gross');
    expect(E3).not.toBe('none');
    expect(Object.values(others)).toEqual(['none', 'none', 'none']);
  });

  it('is another thing than a key whose tight link has a cup of its own to keep off', () => {
    expect(answers('tight@link.foot', 'moderate')).toMatchObject({ G3: 'none', A3: 'none' });
    expect(answers('tight@link.foot', 'gross').E3).not.toBe('none');
  });
});

describe('water in a hole', () => {
  it('is a fault where it gathers, and hinders the notes of that hole without ever shutting it', () => {
    // A drop in a tone hole: gurgle or flutter on one note (H. Moennig; Water water everywhere, clarinet blog, 2009).
    expect(clarinetLike.faults.filter(({ kind }) => kind === 'water').map(({ id }) => id)).toEqual([
      'water@cup.wet',
    ]);
    for (const severity of ['slight', 'moderate', 'gross'] as const)
      expect(answers('water@cup.wet', severity)).toEqual({
        E3: 'none',
        G3: 'none',
        'G#3': severity === 'slight' ? 'slight' : 'clear',
        A3: 'none',
      });
  });
});
