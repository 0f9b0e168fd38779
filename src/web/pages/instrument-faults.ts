/** Links and faults on the page of an instrument: what each does to which notes, what proves it, what may be done. */
import type { FaultView, InstrumentDetail } from '../instrument-schema.ts';
import { anchorOf, type Names, type Refs, type Sourced } from './instrument-parts.ts';

/** Faults of one part that do the same to the notes. */
type FaultModel = {
  titles: string[];
  effects: { notes: string; how: string }[];
  spared: string;
};

/** Faults of one kind that are proved and treated in the same way, told by the first of them. */
export type KindModel = {
  title: string;
  proofs: { title: string; answer: string }[];
  treatment: string;
  urgency: string;
  /** How many more there are, at which other parts. */
  alsoAt: string;
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
      { term: 'Adjusted by', says: capitalize(link.adjuster) },
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

const capitalize = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

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

/** Faults of one place that do the same to every note stand together. */
function groupFaults(faults: readonly FaultView[]): FaultModel[] {
  const alike = Map.groupBy(faults, ({ effects }) =>
    JSON.stringify(effects.map(({ how, fingerings }) => [how, fingerings])),
  );
  return [...alike.values()].map((group) => ({
    titles: group.map(({ title }) => title),
    effects: group[0]!.effects.map(({ notes, how }) => ({ notes, how })).filter(({ notes }) => notes !== ''),
    spared: group[0]!.spared,
  }));
}

/** How faults are proved and treated: those alike in kind, checks and treatment together. */
export function kindsOf({ faults }: InstrumentDetail, names: Names): KindModel[] {
  const alike = Map.groupBy(faults, ({ kind, provedBy, treatment, job }) =>
    [kind, ...provedBy.map(({ check }) => check.replace(/@.*$/, '')), treatment?.procedure, job].join(' '),
  );
  return [...alike.values()].map(([first, ...others]) => ({
    title: first!.title,
    proofs: first!.provedBy.map(({ title, answer }) => ({ title, answer })),
    treatment: sayTreatment(first!),
    urgency: first!.urgency,
    alsoAt: others.map(({ place }) => names(place)).join(', '),
  }));
}

function sayTreatment({ treatment, job }: FaultView): string {
  return treatment === null
    ? `Bench work: ${job}.`
    : `${treatment.title}${treatment.adjusts ? ', with the owner’s word' : ''}; else bench work: ${job}.`;
}
