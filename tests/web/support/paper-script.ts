/** A short invented job on paper: the steps of the runs that the page tests use. Instrument, people and findings are invented. */

import type { NoteRowView, OutcomeView, PictureView, StepView } from '../../../src/runs/view.ts';
import { toneOf } from '../../../src/runs/written-note.ts';

/** An alto saxophone sounds a major sixth below what is written. */
const alto = { transposition: { semitones: -9 } };

/** A small picture in lines, with its words inside as ours have them. */
export function drawPicture(words: string): PictureView {
  const id = words.replaceAll(/[^A-Za-z]+/g, '-');
  return {
    svg: `<svg viewBox="0 0 60 60" role="img" aria-labelledby="${id}"><title id="${id}">${words}</title><circle cx="20" cy="30" r="9" fill="none" stroke="currentColor"/><path d="M35 30h20" stroke="currentColor"/></svg>`,
    words,
  };
}

const notes: [fingering: string, note: string, name: string, group: 'first' | 'then'][] = [
  ['fg.D4', 'D4', 'low D', 'first'],
  ['fg.Cs4', 'C#4', 'low C sharp', 'first'],
  ['test.D4+gsharp', 'D4', 'low D with the G sharp touch', 'first'],
  ['fg.E4', 'E4', 'low E', 'then'],
];

/** The rows of the play test, without answers. */
export function listNoteRows(): NoteRowView[] {
  return notes.map(([fingering, note, name, group]) => ({
    fingering,
    note,
    name,
    group,
    staff: drawPicture(`${name} on a staff`),
    tone: toneOf(alto, note),
    words: `Left hand: three fingers. Right hand: what ${name} needs.`,
    picture: drawPicture(`Fingering of ${name}`),
    answered: null,
    sounded: null,
  }));
}

const outcome: OutcomeView = {
  id: 'mended',
  title: 'Mended in the band room',
  lead: 'The screw between the right-hand stack and the G sharp cup was backed out. About 9 in 10 instruments with these answers have just that.',
  explanation: [
    'Low C sharp failed while low D spoke.',
    'Only the G sharp cup moves for one and not for the other.',
  ],
  done: ['Turned the screw in by three quarter turns.'],
  recheck: ['Play low C sharp softly.'],
  untilMended: ['Nothing needs to be worked around.'],
  alternates: [
    {
      note: 'C#4',
      name: 'low C sharp',
      staff: drawPicture('low C sharp on a staff'),
      tone: toneOf(alto, 'C#4'),
      words: 'Press the G sharp cup shut by hand.',
      picture: drawPicture('The G sharp cup'),
    },
  ],
  cautions: ['Do not bend anything.'],
  escalation: 'If low C sharp fails again within a week, book the bench.',
  ticket: {
    number: 'T-0001',
    opened: '2026-01-05',
    instrument: 'Alto saxophone',
    person: 'Band director',
    confirmed: ['Low B does not speak.'],
    complaint: '',
    owner: '',
    findings: [{ what: 'Neck', seen: 'tight' }],
    notes: [{ note: 'C#4', name: 'low C sharp', answered: 'silent' }],
    suspects: [{ title: 'G sharp screw backed out', chance: 'about 9 in 10', confirm: 'tap the cup' }],
    adjustments: ['G sharp screw: in by three quarter turns'],
    job: { name: 'Regulation', includes: 'set and secure the screw', hours: '0.3', basis: 'estimate' },
    urgency: { level: 'This week', meaning: 'playable meanwhile' },
    tellTheBench: ['The screw backs out again: secure it.'],
  },
};

type PaperStep = Omit<StepView, 'notes' | 'proposals' | 'reading' | 'outcome'>;

const couldNotTell = {
  id: 'could-not-tell',
  label: 'I can’t do this here, or can’t tell',
  tone: 'quiet',
} as const;

const steps: readonly PaperStep[] = [
  {
    id: 'ready',
    kind: 'question',
    title: 'Is the instrument put together?',
    ask: 'Put on neck, mouthpiece and a reed that you know.\n\nHold it as if to play.',
    why: 'A loose neck spoils every note.',
    plainly: '',
    terms: [],
    cautions: [],
    reminders: [],
    picture: null,
    written: null,
    wavering: null,
    choices: [
      { id: 'yes', label: 'Yes', tone: 'plain' },
      { id: 'not-here', label: 'I cannot do this here', tone: 'quiet' },
    ],
  },
  {
    id: 'neck',
    kind: 'check',
    title: 'Does the neck turn too easily?',
    ask: 'Tighten the neck screw with two fingers and try to turn the neck.',
    why: 'Air that leaves there is missed by every low note.',
    plainly: 'Hold the body, and try gently to turn the curved piece at the top.',
    terms: [{ word: 'neck', means: 'The curved piece at the top.' }],
    cautions: ['Two fingers only: the screw breaks.'],
    reminders: [],
    picture: drawPicture('The neck, seen from the side; the screw is marked.'),
    written: null,
    wavering: null,
    choices: [
      { id: 'tight', label: 'It stays put', tone: 'plain' },
      { id: 'loose', label: 'It turns by itself', tone: 'plain' },
      couldNotTell,
    ],
  },
  {
    id: 'play',
    kind: 'notes',
    title: 'Play down to the low notes',
    ask: 'Play each note softly, and say how it answers.',
    why: 'Which notes fail tells which part is at fault.',
    plainly: '',
    terms: [],
    cautions: [],
    reminders: [],
    picture: null,
    written: null,
    wavering: null,
    choices: [
      { id: 'done', label: 'I have played what I can', tone: 'plain' },
      { id: 'cannot-play', label: 'Nobody here can play it', tone: 'quiet' },
    ],
  },
  {
    id: 'turn',
    kind: 'instruction',
    title: 'Turn the screw in by a quarter turn',
    ask: 'Turn it a quarter turn clockwise, then play low C sharp.',
    why: 'A little at a time, so that nothing is overdone.',
    plainly: '',
    terms: [],
    cautions: ['Stop when it needs force.'],
    reminders: [{ text: 'Two fingers only: the screw breaks.', brief: 'two fingers only' }],
    picture: drawPicture('The upper of the two screws is marked.'),
    written: null,
    wavering: null,
    choices: [
      { id: 'better', label: 'It speaks now', tone: 'plain' },
      { id: 'same', label: 'No change', tone: 'plain' },
      couldNotTell,
    ],
  },
  {
    id: 'end',
    kind: 'outcome',
    title: outcome.title,
    ask: '',
    why: '',
    plainly: '',
    terms: [],
    cautions: [],
    reminders: [],
    picture: null,
    written: null,
    wavering: null,
    choices: [],
  },
];

/** The step of a name. */
export function findStep(id: string): PaperStep {
  const step = steps.find((each) => each.id === id);
  if (step === undefined) throw new Error(`There is no step ${id} on paper.`);
  return step;
}

/** Which step follows on a choice: the next one, or the end where somebody cannot go on. */
export function nextStep(id: string, choice: string): string {
  if (choice === 'not-here') return 'end';
  const place = steps.findIndex((each) => each.id === id);
  return steps[place + 1]?.id ?? 'end';
}

/** The outcome on paper. */
export function readOutcome(): OutcomeView {
  return outcome;
}
