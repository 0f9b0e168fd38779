/** The drawings know no instrument: one that nobody ever built, straight, lying across, for one hand, is drawn as well. */
import { describe, expect, test } from 'vitest';
import { buildInstrument, FingeringsFile, MechanismFile } from '../../src/mechanism/index.ts';
import {
  drawFingering,
  drawPart,
  drawPress,
  drawTurn,
  drawWatch,
  findLayoutProblems,
  Layout,
} from '../../src/picture/index.ts';
import { parseMarkup, pathsOf, textsOf } from './support/markup.ts';

const source = ['estimate'];
const cup = (id: string, name: string, note: string) => ({
  id,
  name,
  alsoCalled: [],
  rest: 'open',
  note,
  spring: 'opens',
  presence: 'all',
  source,
});
const pipe = buildInstrument(
  MechanismFile.parse({
    instrument: {
      id: 'test-pipe',
      name: 'Test pipe',
      family: 'saxophone',
      acoustics: 'cone',
      transposition: { semitones: 0, sounds: 'C' },
      range: { lowest: 'C4', highest: 'E4' },
      source,
    },
    vents: [cup('cup.upper', 'upper cup', 'E4'), cup('cup.lower', 'lower cup', 'D4')],
    touches: [
      {
        id: 'touch.one',
        name: 'right first finger',
        hand: 'right',
        finger: 'index',
        moves: [{ part: 'cup.upper', action: 'closes' }],
        source,
      },
      {
        id: 'touch.two',
        name: 'right second finger',
        hand: 'right',
        finger: 'middle',
        moves: [
          { part: 'cup.lower', action: 'closes' },
          { part: 'cup.upper', action: 'closes', link: 'link.two-closes-upper' },
        ],
        source,
      },
    ],
    keys: [],
    links: [
      {
        id: 'link.two-closes-upper',
        name: 'second finger to the upper cup',
        action: 'closes',
        adjuster: { kind: 'screw', text: 'A screw between the two.' },
        presence: 'all',
        work: 'director',
        slack: { title: 'Too little' },
        tight: { title: 'Too much' },
        source,
      },
    ],
    joints: [],
    bores: [],
    causes: [],
  }),
  FingeringsFile.parse({
    playTest: { order: ['fg.C4'], source },
    fingerings: [
      { id: 'fg.C4', note: 'C4', kind: 'standard', register: 1, touches: ['touch.one', 'touch.two'], source },
      { id: 'fg.E4', note: 'E4', kind: 'standard', register: 1, touches: [], source },
    ],
  }),
);
const layout = Layout.parse({
  instrument: 'test-pipe',
  seen: 'The keys face you and the open end is on the right.',
  space: [600, 160],
  body: [
    {
      look: 'tube',
      stations: [
        [20, 80, 20],
        [300, 80, 20],
        [580, 80, 22],
      ],
    },
  ],
  vents: { 'cup.upper': { at: [250, 80], size: 30 }, 'cup.lower': { at: [400, 80], size: 34 } },
  touches: {
    'touch.one': {
      at: [250, 40],
      size: [30, 30],
      label: '1',
      finger: { at: [20, 20], size: [24, 24] },
      arms: [
        [
          [250, 40],
          [250, 80],
        ],
      ],
    },
    'touch.two': {
      at: [330, 40],
      size: [30, 30],
      label: '2',
      finger: { at: [60, 20], size: [24, 24] },
      arms: [
        [
          [330, 40],
          [400, 80],
        ],
        [
          [330, 40],
          [250, 80],
        ],
      ],
    },
  },
  keys: {},
  links: { 'link.two-closes-upper': { at: [262, 74] } },
  joints: {},
  bores: {},
});
const options = { prefix: 'a' };

describe('an instrument without a flared end and for one hand', () => {
  test('has a layout that fits', () => {
    expect(findLayoutProblems(pipe, layout)).toEqual([]);
  });

  test('is drawn in all its uses, each well-formed and without a trace of a second hand', () => {
    const press = drawPress(pipe, layout, pipe.fingering('fg.C4'), options);
    const pictures = [
      press,
      drawFingering(pipe, layout, pipe.fingering('fg.C4'), options),
      drawWatch(pipe, layout, { hold: ['touch.two'], watch: 'cup.upper' }, options),
      drawPart(pipe, layout, { place: 'cup.lower' }, options),
      drawTurn(
        pipe,
        layout,
        { link: 'link.two-closes-upper', direction: 'in', turnedEighths: 1, limitEighths: 8, nowEighths: 1 },
        options,
      ),
    ];
    for (const { svg, words } of pictures) {
      const tags = parseMarkup(svg);
      expect(tags[2]!.text).toBe(words);
      expect(svg).not.toMatch(/NaN|undefined|Infinity|left hand/);
    }
    expect(textsOf(parseMarkup(press.svg), 'hand')).toEqual(['right hand']);
    expect(pathsOf(parseMarkup(press.svg), 'rim')).toBe('');
  });

  test('shows the movement that its own mechanism makes', () => {
    const { words } = drawWatch(pipe, layout, { hold: ['touch.two'], watch: 'cup.upper' }, options);
    expect(words).toContain('Hold right hand 2. Watch the upper cup: it must go right down and shut');
  });
});
