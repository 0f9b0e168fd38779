/** The content as pages and API read it: instruments as plain data, and diagnoses without a run. */
import type { Content, InstrumentContent } from '../content/index.ts';
import { sayNote } from '../diagnosis/index.ts';
import { midi, nextRegister, noteName, parseNote } from '../mechanism/index.ts';
import { findInstrument } from '../runs/book.ts';
import type { InstrumentDetail } from '../web/instrument-schema.ts';
import type { FamilyChoice, Library, NoteOption } from '../web/library.ts';
import { describeInstrument } from './describe-instrument.ts';
import { diagnose } from './diagnose.ts';
import { listFamilies, listInstruments } from './instrument-choice.ts';
import { createPaperShelf } from './paper-shelf.ts';

const persons: Library['persons'] = [
  {
    id: 'director',
    label: 'Band director',
    line: 'You have the instrument in your hands and may use a small screwdriver.',
  },
  {
    id: 'helper',
    label: 'Student helper',
    line: 'You work at a clinic; a supervisor must agree before a tool is used.',
  },
  {
    id: 'desk',
    label: 'Shop desk',
    line: 'You have a caller on the telephone and the instrument is somewhere else.',
  },
];

const tools: Library['tools'] = [
  { id: 'screwdriver', label: 'A small flat screwdriver' },
  { id: 'paper', label: 'Thin paper, such as a cigarette paper or a strip of tissue' },
  { id: 'leak-light', label: 'A leak light (a cool lamp that goes inside the tube)' },
  { id: 'second-person', label: 'Somebody to help' },
  {
    id: 'own-mouthpiece',
    label: 'What I blow on, my own and in good order',
    line: 'A mouthpiece, with its reed where it has one; a double reed; a headjoint.',
  },
];

/** How far below and above a note one may hear another one instead, in semitones; a figure of ours. */
const nearBelow = 7;
const nearAbove = 7;

/** The library over one edition of the content. */
export function createLibrary(content: Content): Library {
  const details = new Map<string, InstrumentDetail>();
  let families: readonly FamilyChoice[] | undefined;
  const paper = createPaperShelf(content);

  return {
    persons,
    tools,
    instruments: () => listInstruments(content),
    families() {
      families ??= listFamilies(content);
      return families;
    },
    instrument(id) {
      const kept = details.get(id) ?? describeInstrument(content, findInstrument(content, id));
      details.set(id, kept);
      return kept;
    },
    complaints: paper.complaints,
    paperSheet: paper.sheet,
    diagnose: (request) => diagnose(findInstrument(content, request.instrument), content.vocabulary, request),
    notesNear(instrument, note) {
      const found = content.instruments.get(instrument);
      return found === undefined ? [] : listNotesNear(found, note);
    },
  };
}

function listNotesNear({ instrument }: InstrumentContent, note: string): NoteOption[] {
  const number = parseNote(note);
  if (number === null) return [];
  const lowest = midi(instrument.range.lowest);
  const highest = midi(instrument.range.highest);
  const say = (other: number): NoteOption => ({
    note: noteName(other),
    name: sayNote(instrument, noteName(other)),
  });
  const near = Array.from({ length: nearBelow + nearAbove + 1 }, (_, index) => number + nearAbove - index);
  const fingering = instrument.fingerings.find((one) => one.kind === 'standard' && midi(one.note) === number);
  const above = fingering === undefined ? null : nextRegister(instrument, fingering);
  return [above, ...near.filter((other) => other !== number && other !== above)]
    .filter((other) => other !== null)
    .filter((other) => other >= lowest && other <= highest)
    .map(say);
}
