/** Links and faults on the page of an instrument: what each does to which notes, what proves it, what may be done. */
import type { FaultView, InstrumentDetail } from '../instrument-schema.ts';
import { anchorOf, type Names, type Refs, type Sourced } from './instrument-parts.ts';

/** Faults of one part that do the same to the notes. */
type FaultModel = {
  titles: string[];
  effects: { notes: string; how: string }[];
  spared: string;
  proofs: { title: string; answer: string }[];
  treatment: string;
};

export type LinkModel = Sourced & {
  anchor: string;
  name: string;
  facts: { term: string; says: string }[];
  remark: string;
  faults: FaultModel[];
};

export type PlaceModel = { anchor: string; name: string; faults: FaultModel[] };

/** The links, each with what slack and tight do. */
export function linksOf(detail: InstrumentDetail, names: Names, refs: Refs): LinkModel[] {
  const list = (ids: readonly string[]) => ids.map((id) => `the ${names(id)}`).join(', ');
  return detail.links.map((link) => ({
    anchor: anchorOf(link.id),
    name: link.name,
    facts: [
      { term: 'Driven by', says: list(link.drivers) },
      { term: link.action === 'switches' ? 'Steers' : `What it ${link.action}`, says: list(link.targets) },
      { term: 'Adjusted by', says: `${link.adjusterKind}. ${link.adjuster}` },
      {
        term: 'Who may set it',
        says:
          link.work === 'director'
            ? 'a band director, where the screw turns freely and the screwdriver fits; else the bench'
            : 'the bench',
      },
      ...(link.lookAlike === null ? [] : [{ term: 'Not to be taken for', says: names(link.lookAlike) }]),
      ...(link.presence === 'all' ? [] : [{ term: 'Found on', says: `${link.presence} instruments` }]),
    ],
    remark: link.remark ?? '',
    sources: refs(link.source),
    faults: groupFaults(detail.faults.filter(({ place }) => place === link.id)),
  }));
}

/** Every other part at which something can be wrong, in the order of the faults. */
export function placesOf(detail: InstrumentDetail, names: Names): PlaceModel[] {
  const links = new Set(detail.links.map(({ id }) => id));
  const byPlace = Map.groupBy(detail.faults, ({ place }) => place);
  return [...byPlace]
    .filter(([place]) => !links.has(place))
    .map(([place, faults]) => ({
      anchor: `faults-${anchorOf(place)}`,
      name: names(place),
      faults: groupFaults(faults),
    }));
}

/** Faults of one place that do the same to every note stand together; what proves each is told of each. */
function groupFaults(faults: readonly FaultView[]): FaultModel[] {
  const alike = Map.groupBy(faults, ({ effects }) =>
    JSON.stringify(effects.map(({ how, fingerings }) => [how, fingerings])),
  );
  return [...alike.values()].map((group) => ({
    titles: group.map(({ title }) => title),
    effects: group[0]!.effects.map(({ notes, how }) => ({ notes, how })).filter(({ notes }) => notes !== ''),
    spared: group[0]!.spared,
    proofs: unique(group.flatMap(({ provedBy }) => provedBy)),
    treatment: [...new Set(group.map(sayTreatment))].join(' '),
  }));
}

function unique(proofs: FaultView['provedBy']): FaultModel['proofs'] {
  const told = new Map(proofs.map(({ title, answer }) => [`${title} ${answer}`, { title, answer }]));
  return [...told.values()];
}

function sayTreatment({ treatment, job }: FaultView): string {
  return treatment === null
    ? `Bench work: ${job}.`
    : `${treatment.title}${treatment.adjusts ? ', with the owner’s word' : ''}; else bench work: ${job}.`;
}
