/** The tables of parts on the page of an instrument, only those that it has. */
import type { InstrumentDetail } from '../instrument-schema.ts';

/** A source by its number and place on the page, or one of the marks that stand in place of one. */
export type SourceRefModel = { label: string; anchor: string | null };

export type Sourced = { sources: SourceRefModel[] };

/** A row of a table of parts: the part, what else is said of it, one or two cells. */
type PartModel = Sourced & { anchor: string; name: string; also: string; remark: string; cells: string[] };

export type PartTableModel = {
  anchor: string;
  title: string;
  lead: string;
  columns: string[];
  parts: PartModel[];
};

/** The name of a part by its id. */
export type Names = (id: string) => string;

/** The names of all parts. */
export function namesIn(detail: InstrumentDetail): Names {
  const { vents, touches, keys, links, joints, bores, causes } = detail;
  const { valves = [], slides = [], waterKeys = [], pairs = [] } = detail.tube ?? {};
  const parts = [vents, touches, keys, links, joints, bores, causes, valves, slides, waterKeys, pairs].flat();
  const names = new Map(parts.map(({ id, name }) => [id, name]));
  return (id) => names.get(id) ?? id;
}

/** The place on the page of what has this id. */
export const anchorOf = (id: string): string => id.replaceAll(/[^A-Za-z0-9]+/g, '-');

/** How sources are referred to: by their number on the page. */
export function sourceRefs({ sources }: InstrumentDetail): (ids: readonly string[]) => SourceRefModel[] {
  const numbers = new Map(sources.map(({ id }, index) => [id, index + 1]));
  return (ids) =>
    [...new Set(ids)].map((id) => {
      const number = numbers.get(id);
      return number === undefined
        ? { label: id, anchor: null }
        : { label: String(number), anchor: `source-${number}` };
    });
}

export type Refs = ReturnType<typeof sourceRefs>;

/** The tables, in the order in which one meets the parts. */
export function tablesOf(detail: InstrumentDetail, names: Names, refs: Refs): PartTableModel[] {
  const toPart = (
    part: { id: string; name: string; source: string[]; remark: string | null },
    cells: string[],
    also = '',
  ): PartModel => ({
    anchor: anchorOf(part.id),
    name: part.name,
    also,
    remark: part.remark ?? '',
    cells,
    sources: refs(part.source),
  });
  const vents = detail.vents.map((vent) =>
    toPart(
      vent,
      [vent.rest, vent.note ?? 'register only'],
      [
        ...vent.alsoCalled,
        ...(vent.cover === 'finger' ? ['covered by the finger'] : []),
        ...(vent.isRegisterVent && vent.note !== null ? ['also a register vent'] : []),
        ...sayPresence(vent.presence),
      ].join('; '),
    ),
  );
  const touches = detail.touches.map((touch) =>
    toPart(touch, [sayMoves(touch.moves, names)], [...touch.alsoCalled, touch.where].join('; ')),
  );
  const keys = detail.keys.map((key) =>
    toPart(
      key,
      [sayMoves(key.moves, names)],
      [...key.alsoCalled, ...(key.hasSpring ? ['has a spring of its own'] : [])].join('; '),
    ),
  );
  const joints = detail.joints.map((joint) => toPart(joint, [], joint.alsoCalled.join('; ')));
  const bores = detail.bores.map((bore) =>
    toPart(
      bore,
      [
        [
          ...(bore.after === null ? [] : [`below the ${names(bore.after)}`]),
          ...(bore.gathersWater ? ['water gathers here'] : []),
        ].join('; '),
      ],
      bore.alsoCalled.join('; '),
    ),
  );
  const causes = detail.causes.map((cause) => toPart(cause, [cause.group], cause.alsoCalled.join('; ')));
  return [
    {
      anchor: 'vents',
      title: 'Vents',
      lead: 'Holes by which the air can leave, in the order in which it meets them. The note is the one that sounds when this is the highest open hole, in the low register, written pitch.',
      columns: ['Vent', 'At rest', 'Note'],
      parts: vents,
    },
    {
      anchor: 'touches',
      title: 'Touches',
      lead: 'What the fingers press, and what that moves.',
      columns: ['Touch', 'What it moves'],
      parts: touches,
    },
    {
      anchor: 'keys',
      title: 'Keys between touches and vents',
      lead: 'Moving parts that carry the motion on.',
      columns: ['Key', 'What it moves'],
      parts: keys,
    },
    ...tubeTables(detail, toPart),
    {
      anchor: 'joints',
      title: 'Joints that can leak',
      lead: 'Places where two parts of the tube are put together.',
      columns: ['Joint'],
      parts: joints,
    },
    {
      anchor: 'bores',
      title: 'Stretches of the bore',
      lead: 'Where something can be lodged. What lies there hinders the notes whose air column reaches past it.',
      columns: ['Stretch', 'Where'],
      parts: bores,
    },
    {
      anchor: 'causes',
      title: 'Causes that are no fault of the mechanism',
      lead: 'Set-up and playing are ruled out before anything is adjusted.',
      columns: ['Cause', 'Sort'],
      parts: causes,
    },
  ].filter(({ parts }) => parts.length > 0);
}

type ToPart = (
  part: { id: string; name: string; source: string[]; remark: string | null },
  cells: string[],
  also?: string,
) => PartModel;

/** The tables of a brass instrument; none for others. */
function tubeTables({ tube }: InstrumentDetail, toPart: ToPart): PartTableModel[] {
  if (tube === null) return [];
  const also = ({ alsoCalled, presence }: { alsoCalled: string[]; presence: string }) =>
    [...alsoCalled, ...sayPresence(presence)].join('; ');
  const lowering = ({ lowers, positions }: { lowers: number; positions: number | null }) =>
    positions === null ? String(lowers) : `1 from each of ${positions} positions to the next`;
  return [
    {
      anchor: 'valves',
      title: 'Valves',
      lead: 'A valve sends the air through more tubing while it is pressed.',
      columns: ['Valve', 'Sort', 'Worked by'],
      parts: tube.valves.map((valve) => toPart(valve, [valve.sort, valve.where], also(valve))),
    },
    {
      anchor: 'slides',
      title: 'Slides',
      lead: 'Tubing that can be drawn, by how many half steps it lowers a note, and which notes go through it.',
      columns: ['Slide', 'Lowers', 'When'],
      parts: tube.slides.map((slide) => toPart(slide, [lowering(slide), slide.where], also(slide))),
    },
    {
      anchor: 'water-keys',
      title: 'Water keys',
      lead: 'Levers with a cork over a hole, by which water is let out.',
      columns: ['Water key', 'Where'],
      parts: tube.waterKeys.map((key) => toPart(key, [key.where], also(key))),
    },
  ];
}

function sayPresence(presence: string): string[] {
  return presence === 'all' ? [] : [`on ${presence} instruments`];
}

function sayMoves(moves: InstrumentDetail['touches'][number]['moves'], names: Names): string {
  return moves
    .map(({ part, action, link, when }) =>
      [
        `${action === 'holds' ? 'keeps shut' : action} the ${names(part)}`,
        ...(link === null ? [] : [`by the link “${names(link)}”`]),
        ...(when === null ? [] : [`while “${names(when.link)}” is ${when.engaged ? '' : 'not '}thrown`]),
      ].join(' '),
    )
    .join('; ');
}
