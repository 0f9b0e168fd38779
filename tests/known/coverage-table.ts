/** What is known of each instrument, counted: the table that stands in DEVELOPERS.md. */
import type { Content, InstrumentContent } from '../../src/content/index.ts';
import { treatmentOf } from '../../src/diagnosis/index.ts';
import { createLibrary } from '../../src/library/create-library.ts';
import { SOURCE_MARKS } from '../../src/mechanism/index.ts';
import { casesByInstrument } from './published-cases.ts';

const head = [
  'instrument',
  'parts',
  'links',
  'faults',
  'treated before the bench',
  'procedures',
  'checks',
  'fingerings (others)',
  'published cases',
  'sources',
  'facts without a source',
];

/** The table as lines of Markdown, in the order in which the instruments are offered. */
export function coverageTable(content: Content): string[] {
  const library = createLibrary(content);
  const rows = library
    .instruments()
    .map(({ id }) => rowOf(content.instruments.get(id)!, library.instrument(id)));
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  return [line(head), line(head.map(() => '---')), ...rows.map(line)];
}

type Detail = ReturnType<ReturnType<typeof createLibrary>['instrument']>;

function rowOf({ instrument, model }: InstrumentContent, detail: Detail): string[] {
  const treatments = model.hypotheses.faults.flatMap((_, fault) => treatmentOf(model, fault) ?? []);
  const standard = detail.fingerings.filter(({ kind }) => kind === 'standard').length;
  const parts = [
    detail.vents,
    detail.touches,
    detail.keys,
    detail.joints,
    detail.bores,
    tubeParts(detail),
  ].flat();
  const { facts, unsourced } = countFacts(detail);
  return [
    instrument.name,
    parts.length,
    detail.links.length,
    detail.faults.length,
    treatments.length,
    new Set(treatments.map(({ procedure }) => procedure)).size,
    model.checks.length,
    `${standard} (${detail.fingerings.length - standard})`,
    casesByInstrument[instrument.id]?.length ?? 0,
    detail.sources.length,
    `${unsourced} of ${facts}`,
  ].map(String);
}

/** How many parts, fingerings and groups there are, and for how many of them no published source is named. */
function countFacts(detail: Detail): { facts: number; unsourced: number } {
  const marks: readonly string[] = SOURCE_MARKS;
  const { vents, touches, keys, links, joints, bores, causes, fingerings, frequencies } = detail;
  const listed = [vents, touches, keys, links, joints, bores, causes, fingerings, frequencies];
  const facts = [...listed, tubeParts(detail)].flat();
  const unsourced = facts.filter(({ source }) => source.every((id) => marks.includes(id)));
  return { facts: facts.length, unsourced: unsourced.length };
}

/** Valves, slides and water keys; none where there is no such tube. */
function tubeParts({ tube }: Detail) {
  return tube === null ? [] : [...tube.valves, ...tube.slides, ...tube.waterKeys];
}
