/** One invented, much shortened instrument, told in full. */
import type { InstrumentDetail } from '../../../src/web/instrument-schema.ts';

const unsourced = { alsoCalled: [], source: ['common practice, no source'], remark: null };
const csharp4 = { note: 'C#4', sounding: 'E3', frequency: 164.81 };

export const paperInstrument: InstrumentDetail = {
  id: 'alto-saxophone',
  name: 'Alto saxophone',
  family: 'saxophone',
  clef: 'treble',
  transposition: { semitones: -9, sounds: 'Eb' },
  range: { lowest: 'Bb3', highest: 'F#6' },
  pitch: {
    lowest: { note: 'Bb3', sounding: 'C#3', frequency: 138.59 },
    highest: { note: 'F#6', sounding: 'A5', frequency: 880 },
  },
  source: ['common practice, no source'],
  vents: [
    {
      ...unsourced,
      id: 'cup.gsharp',
      name: 'G sharp cup',
      alsoCalled: ['articulated G sharp'],
      cover: 'pad',
      rest: 'closed',
      spring: 'opens',
      note: 'G#4',
      isRegisterVent: false,
      presence: 'most',
    },
  ],
  touches: [
    {
      ...unsourced,
      id: 'touch.gsharp',
      name: 'G sharp touch',
      hand: 'left',
      finger: 'little',
      where: 'left little finger',
      moves: [{ part: 'cup.gsharp', action: 'opens', link: 'link.fsharp-holds-gsharp', when: null }],
    },
  ],
  keys: [],
  links: [
    {
      id: 'link.fsharp-holds-gsharp',
      name: 'Arm over the G sharp cup',
      alsoCalled: [],
      source: ['bench-book', 'estimate'],
      remark: 'Missing on some.',
      action: 'holds',
      drivers: ['touch.gsharp'],
      targets: ['cup.gsharp'],
      adjuster: 'The upper of two.',
      adjusterKind: 'screw',
      lookAlike: null,
      work: 'director',
      presence: 'all',
    },
  ],
  joints: [],
  bores: [],
  tube: null,
  causes: [],
  faults: [
    {
      id: 'slack@link.fsharp-holds-gsharp',
      kind: 'slack',
      place: 'link.fsharp-holds-gsharp',
      title: 'G sharp screw backed out',
      severity: 'moderate',
      effects: [
        {
          degree: 'clear',
          nextRegister: false,
          shift: null,
          how: 'clear',
          fingerings: ['fg.Cs4'],
          notes: 'low C sharp',
        },
      ],
      spared: '',
      provedBy: [{ check: 'tap@link.fsharp-holds-gsharp', title: 'Tap the G sharp cup', answer: 'It moves' }],
      treatment: {
        procedure: 'turn-screw',
        title: 'Turn one screw',
        adjusts: true,
        source: ['bench-book'],
      },
      job: 'Regulation',
      urgency: 'This week',
    },
  ],
  frequencies: [{ name: 'screws', per100: 6, source: ['estimate'] }],
  fingerings: [
    {
      ...unsourced,
      ...csharp4,
      id: 'fg.Cs4',
      name: 'low C sharp',
      kind: 'standard',
      register: 1,
      touches: ['touch.gsharp'],
      words: 'G sharp',
      partial: null,
      position: null,
      cents: null,
    },
  ],
  playTest: { order: ['fg.Cs4'], source: ['estimate'] },
  checks: [
    {
      id: 'tap@link.fsharp-holds-gsharp',
      title: 'Tap the G sharp cup',
      answers: [
        { id: 'moves', label: 'It moves' },
        { id: 'still', label: 'It stays' },
      ],
    },
  ],
  sources: [
    {
      id: 'bench-book',
      author: 'A. Nybody',
      title: 'An invented book',
      year: 2001,
      address: 'https://example.org/book',
      read: 'all of it',
    },
  ],
};
