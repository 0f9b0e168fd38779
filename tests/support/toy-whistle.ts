/** A tin whistle in D, six holes that the fingers cover and nothing else: an instrument as data alone. */
import type { Documents } from '../../src/content/index.ts';

const source = ['common practice, no source'];
export const whistleHoles = [
  ['left', 'index', 'C#6'],
  ['left', 'middle', 'B5'],
  ['left', 'ring', 'A5'],
  ['right', 'index', 'G5'],
  ['right', 'middle', 'F#5'],
  ['right', 'ring', 'E5'],
] as const;
const scale = ['D5', 'E5', 'F#5', 'G5', 'A5', 'B5', 'C#6'];

const mechanism = {
  instrument: {
    id: 'tin-whistle',
    name: 'Tin whistle in D',
    family: 'whistle',
    acoustics: 'open-cylinder',
    transposition: { semitones: 0, sounds: 'C' },
    range: { lowest: 'D5', highest: 'B6' },
    source,
  },
  vents: whistleHoles.map(([hand, finger, note]) => ({
    id: `hole.${hand}-${finger}`,
    name: `${hand} ${finger} hole`,
    alsoCalled: [],
    cover: 'finger',
    rest: 'open',
    note,
    spring: 'opens',
    presence: 'all',
    source,
  })),
  touches: whistleHoles.map(([hand, finger]) => ({
    id: `touch.${hand}-${finger}`,
    name: `${hand} ${finger} finger`,
    hand,
    finger,
    moves: [{ part: `hole.${hand}-${finger}`, action: 'closes' }],
    source,
  })),
  keys: [],
  links: [],
  joints: [],
  bores: [],
  causes: [],
};
const fingered = (covered: number) =>
  whistleHoles.slice(0, covered).map(([hand, finger]) => `touch.${hand}-${finger}`);
const low = scale.map((note, index) => ({ note, register: 1, touches: fingered(6 - index) }));
const high = ['D6', 'E6', 'F#6', 'G6', 'A6', 'B6'].map((note, index) => ({
  note,
  register: 2,
  touches: fingered(6 - index),
}));
const fingerings = {
  fingerings: [...low, ...high].map((fingering) => ({
    id: `fg.${fingering.note.replace('#', 's')}`,
    kind: 'standard',
    source,
    ...fingering,
  })),
  playTest: { order: low.map(({ note }) => `fg.${note.replace('#', 's')}`), source },
};

const across = (index: number) => 40 + 30 * index;
const layout = {
  instrument: 'tin-whistle',
  seen: 'The holes face you and the mouthpiece is at the top.',
  space: [120, 300],
  body: [
    {
      look: 'mouthpiece',
      stations: [
        [60, 10, 9],
        [60, 30, 9],
      ],
    },
    {
      look: 'tube',
      stations: [
        [60, 30, 8],
        [60, 280, 8],
      ],
    },
  ],
  vents: Object.fromEntries(
    whistleHoles.map(([hand, finger], index) => [
      `hole.${hand}-${finger}`,
      { at: [60, across(index) + 40], size: 8 },
    ]),
  ),
  touches: Object.fromEntries(
    whistleHoles.map(([hand, finger], index) => [
      `touch.${hand}-${finger}`,
      {
        at: [60, across(index) + 40],
        size: [12, 12],
        label: String(index + 1),
        finger: { at: [30 + 40 * (index % 3), 40], size: [24, 24] },
      },
    ]),
  ),
  keys: {},
  links: {},
  joints: {},
  bores: {},
};
const rate = { per100: 3, source: ['estimate'] };
const frequencies = {
  healthy: rate,
  somethingElse: rate,
  unlisted: rate,
  meanFaults: { value: 0.3, source: ['estimate'] },
  severity: { shares: { slight: 0.4, moderate: 0.4, gross: 0.2 }, source: ['estimate'] },
  presence: { all: 1, most: 0.8, some: 0.15, source: ['estimate'] },
  rarestPair: 0.000001,
  groups: [],
};

/** Its four files, as they would stand under flows/. */
export const whistleFiles = { mechanism, fingerings, layout, frequencies };

/**
 * Documents with the whistle among them: its files, and the words of its family, most of which are those of the flutes.
 *
 * @param documents those of the real files
 */
export function withWhistle(documents: Documents): Documents {
  const flutes = documents['families/flute.yaml'] as { words: Record<string, string> };
  const files = Object.entries(whistleFiles).map(([name, file]) => [
    `instruments/tin-whistle/${name}.yaml`,
    file,
  ]);
  return {
    ...documents,
    ...Object.fromEntries(files),
    'families/whistle.yaml': {
      family: 'whistle',
      name: 'Whistles',
      order: 9,
      lookFor: 'A beak at the top and six holes.',
      cautions: ['hearing'],
      words: { ...flutes.words, readyTitle: 'A clean beak', lookAlong: 'the whole pipe' },
      source: ['estimate'],
    },
  };
}
