/** The page of one instrument: its description with names for ids, numbers for sources, and only the sections it has. */
import type { InstrumentDetail } from '../instrument-schema.ts';
import { instrumentApiPath } from '../paths.ts';
import {
  type KindModel,
  kindsOf,
  type LinkModel,
  linksOf,
  type PlaceModel,
  placesOf,
} from './instrument-faults.ts';
import {
  anchorOf,
  namesIn,
  type PartTableModel,
  type Refs,
  type Sourced,
  type SourceRefModel,
  sourceRefs,
  tablesOf,
} from './instrument-parts.ts';

export type InstrumentModel = {
  name: string;
  sections: { anchor: string; title: string }[];
  facts: { term: string; says: string }[];
  sources: SourceRefModel[];
  tables: PartTableModel[];
  links: LinkModel[];
  places: PlaceModel[];
  kinds: KindModel[];
  frequencies: (Sourced & { name: string; per100: string })[];
  fingerings: (Sourced & {
    anchor: string;
    name: string;
    note: string;
    sounds: string;
    kind: string;
    words: string;
    remark: string;
  })[];
  playTest: Sourced & { notes: { name: string; anchor: string }[] };
  works: { number: number; anchor: string; text: string; address: string | null; read: string }[];
  apiPath: string;
};

/** The page's model. @param detail what is known of the instrument */
export function toInstrumentModel(detail: InstrumentDetail): InstrumentModel {
  const names = namesIn(detail);
  const refs = sourceRefs(detail);
  const tables = tablesOf(detail, names, refs);
  const links = linksOf(detail, names, refs);
  const places = placesOf(detail, names);
  const fingerings = fingeringsOf(detail, refs);
  const model = {
    name: detail.name,
    facts: factsOf(detail),
    sources: refs(detail.source),
    tables,
    links,
    places,
    kinds: kindsOf(detail, names),
    frequencies: detail.frequencies.map(({ name, per100, source }) => ({
      name,
      per100: String(per100),
      sources: refs(source),
    })),
    fingerings,
    playTest: playTestOf(detail, fingerings, refs),
    works: detail.sources.map((work, index) => ({
      number: index + 1,
      anchor: `source-${index + 1}`,
      text: [work.author, work.title, work.year].filter((part) => part !== null).join(', '),
      address: work.address,
      read: work.read ?? '',
    })),
    apiPath: instrumentApiPath(detail.id),
  };
  return { ...model, sections: sectionsOf(model) };
}

function sectionsOf(model: Omit<InstrumentModel, 'sections'>): InstrumentModel['sections'] {
  return [
    ...model.tables.map(({ anchor, title }) => ({ anchor, title })),
    ...(model.links.length > 0 ? [{ anchor: 'links', title: 'Links that can be out of adjustment' }] : []),
    ...(model.places.length > 0 ? [{ anchor: 'faults', title: 'What each fault does to the notes' }] : []),
    { anchor: 'kinds', title: 'How faults are proved and treated' },
    { anchor: 'frequencies', title: 'How often each is met' },
    { anchor: 'fingerings', title: 'Fingerings' },
    { anchor: 'play-test', title: 'Order of the play test' },
    { anchor: 'sources', title: 'Sources' },
  ];
}

function factsOf({ family, clef, transposition, pitch }: InstrumentDetail): InstrumentModel['facts'] {
  const { lowest, highest } = pitch;
  const hertz = (frequency: number) => `${frequency.toFixed(1)} Hz`;
  return [
    { term: 'Family', says: family },
    { term: 'Stands in', says: `${transposition.sounds}; ${sayTransposition(transposition.semitones)}` },
    { term: 'Written range', says: `${lowest.note} to ${highest.note}, ${clef} clef` },
    {
      term: 'Sounds',
      says: `${lowest.sounding} (${hertz(lowest.frequency)}) to ${highest.sounding} (${hertz(highest.frequency)}), A4 = 440 Hz`,
    },
  ];
}

function sayTransposition(semitones: number): string {
  if (semitones === 0) return 'sounds as written';
  const count = Math.abs(semitones);
  return `sounds ${count} half step${count === 1 ? '' : 's'} ${semitones < 0 ? 'lower' : 'higher'} than written`;
}

function fingeringsOf({ fingerings }: InstrumentDetail, refs: Refs): InstrumentModel['fingerings'] {
  return fingerings.map((fingering) => ({
    anchor: anchorOf(fingering.id),
    name: fingering.name,
    note: fingering.note,
    sounds: `${fingering.sounding}, ${fingering.frequency.toFixed(1)} Hz`,
    kind: fingering.kind === 'test' ? 'for testing only' : fingering.kind,
    words: fingering.words,
    remark: [sayPartial(fingering), fingering.remark ?? ''].filter((said) => said !== '').join('; '),
    sources: refs(fingering.source),
  }));
}

/** "partial 3, 30 cents sharp"; empty where no partial is told. */
function sayPartial({ partial, cents }: InstrumentDetail['fingerings'][number]): string {
  if (partial === null || cents === null) return '';
  const off = cents === 0 ? '' : `, ${Math.abs(cents)} cents ${cents > 0 ? 'sharp' : 'flat'} by nature`;
  return `partial ${partial}${off}`;
}

function playTestOf(
  { playTest }: InstrumentDetail,
  fingerings: InstrumentModel['fingerings'],
  refs: Refs,
): InstrumentModel['playTest'] {
  const byAnchor = new Map(fingerings.map((fingering) => [fingering.anchor, fingering]));
  return {
    notes: playTest.order.map((id) => {
      const { name, note, anchor } = byAnchor.get(anchorOf(id))!;
      return { name: `${name} (${note})`, anchor };
    }),
    sources: refs(playTest.source),
  };
}
