import { type Instrument, TUBE_LISTS } from '../mechanism/index.ts';
import { alongBore } from './bore.ts';
import { type Box, boxAround, nearestOnLine, type Point, sharedArea } from './geometry.ts';
import type { Layout } from './schema.ts';

/** One thing wrong in a layout: where in the file (keys from the top), and what to do about it. */
export type LayoutProblem = { readonly path: readonly string[]; readonly message: string };

/** A layout that does not fit its instrument. `problems` lists everything that is wrong. */
export class LayoutError extends Error {
  readonly problems: readonly LayoutProblem[];

  constructor(instrument: string, problems: readonly LayoutProblem[]) {
    const lines = problems.map(({ path, message }) => `  ${path.join(' > ')}: ${message}`);
    super(`The layout of ${instrument} does not fit its mechanism:\n${lines.join('\n')}`);
    this.name = 'LayoutError';
    this.problems = problems;
  }
}

/** How far a screw may lie from the metal that it joins, in layout units: about the size of a screw. */
const REACH = 12;

/** Everything wrong in a layout for this instrument: parts missing, unknown, out of order, off the paper, apart. */
export function findLayoutProblems(instrument: Instrument, layout: Layout): LayoutProblem[] {
  if (layout.instrument !== instrument.id) {
    const message = `this layout is for "${layout.instrument}"; write "${instrument.id}", or use the layout of that instrument`;
    return [{ path: ['instrument'], message }];
  }
  return [
    ...findUncovered(instrument, layout),
    ...findTubeUncovered(instrument, layout),
    ...findDisorder(instrument, layout),
    ...findOffPaper(layout),
    ...findLooseLinks(instrument, layout),
    ...findCrowdedFingers(instrument, layout),
  ];
}

/** Throws LayoutError with every problem when the layout does not fit the instrument. */
export function checkLayout(instrument: Instrument, layout: Layout): void {
  const problems = findLayoutProblems(instrument, layout);
  if (problems.length > 0) throw new LayoutError(instrument.id, problems);
}

const SECTIONS = ['vents', 'touches', 'keys', 'links', 'joints', 'bores', 'causes'] as const;

function findUncovered(instrument: Instrument, layout: Layout): LayoutProblem[] {
  return SECTIONS.flatMap((section) => {
    const known = instrument[section].map(({ id }) => id);
    // A cause needs no place: it lies at the mouthpiece, or with the player.
    return findMismatches([section], known, Object.keys(layout[section] ?? {}), section !== 'causes');
  });
}

function findTubeUncovered({ tube }: Instrument, layout: Layout): LayoutProblem[] {
  return TUBE_LISTS.flatMap((section) =>
    findMismatches(
      ['tube', section],
      (tube?.[section] ?? []).map(({ id }) => id),
      Object.keys(layout.tube?.[section] ?? {}),
    ),
  );
}

function findMismatches(
  path: readonly string[],
  known: readonly string[],
  placed: readonly string[],
  isNeeded = true,
): LayoutProblem[] {
  const missing = isNeeded ? known.filter((id) => !placed.includes(id)) : [];
  const unknown = placed.filter((id) => !known.includes(id));
  return [
    ...missing.map((id) => ({ path, message: `"${id}" has no place; add a line that says where it lies` })),
    ...unknown.map((id) => ({
      path: [...path, id],
      message: `the mechanism has no "${id}"; correct the id or delete the line. Known: ${known.join(', ')}`,
    })),
  ];
}

function findDisorder(instrument: Instrument, layout: Layout): LayoutProblem[] {
  const placed = instrument.vents.filter((vent) => layout.vents[vent.id] !== undefined);
  const along = placed.map((vent) => alongBore(layout, layout.vents[vent.id]!.at));
  return placed.slice(1).flatMap((vent, index) => {
    const before = placed[index]!;
    if (along[index + 1]! > along[index]!) return [];
    const message = `must lie further from the mouthpiece than "${before.id}", which comes before it in the mechanism; move one of the two`;
    return [{ path: ['vents', vent.id], message }];
  });
}

function findOffPaper(layout: Layout): LayoutProblem[] {
  const [width, height] = layout.space;
  const footprints: [string, string, Box][] = [
    ...Object.entries(layout.vents).map(([id, { at, size }]): [string, string, Box] => [
      'vents',
      id,
      boxAround(at, [size, size]),
    ]),
    ...Object.entries(layout.touches).map(([id, { at, size }]): [string, string, Box] => [
      'touches',
      id,
      boxAround(at, size),
    ]),
    ...Object.entries(layout.links).map(([id, { at }]): [string, string, Box] => [
      'links',
      id,
      boxAround(at, [REACH, REACH]),
    ]),
  ];
  return footprints
    .filter(([, , box]) => box.left < 0 || box.top < 0 || box.right > width || box.bottom > height)
    .map(([section, id]) => ({
      path: [section, id],
      message: `lies outside the drawing space of ${width} by ${height}; move it in, or make the space larger`,
    }));
}

/** How far a point lies from a part as it is drawn: its cup or touch and its arms. */
function distanceToPart(layout: Layout, id: string, point: Point): number {
  const vent = layout.vents[id];
  const touch = layout.touches[id];
  const lines = layout.keys[id]?.arms ?? [...(vent?.arms ?? []), ...(touch?.arms ?? [])];
  const aways = lines.map((line) => nearestOnLine(line, point).away);
  if (vent) aways.push(Math.hypot(point[0] - vent.at[0], point[1] - vent.at[1]) - vent.size / 2);
  if (touch) {
    const besideX = Math.abs(point[0] - touch.at[0]) - touch.size[0] / 2;
    const besideY = Math.abs(point[1] - touch.at[1]) - touch.size[1] / 2;
    aways.push(Math.hypot(Math.max(0, besideX), Math.max(0, besideY)));
  }
  return Math.min(...aways);
}

function findLooseLinks(instrument: Instrument, layout: Layout): LayoutProblem[] {
  return instrument.links.flatMap((link) => {
    const at = layout.links[link.id]?.at;
    if (at === undefined) return [];
    const { drivers, targets } = instrument.linkEnds(link.id);
    // A switch steers the motions of its targets from a distance; every other link touches them.
    const ends = link.action === 'switches' ? drivers : [...drivers, ...targets];
    return ends
      .filter((end) => distanceToPart(layout, end.id, at) > REACH)
      .map((end) => ({
        path: ['links', link.id],
        message: `lies more than ${REACH} from "${end.id}", which it joins; move the link or give that part an arm that reaches it`,
      }));
  });
}

function findCrowdedFingers(instrument: Instrument, layout: Layout): LayoutProblem[] {
  const placed = instrument.touches.filter((touch) => layout.touches[touch.id] !== undefined);
  return placed.flatMap((touch, index) =>
    placed.slice(index + 1).flatMap((other) => {
      const [one, two] = [layout.touches[touch.id]!.finger, layout.touches[other.id]!.finger];
      if (
        touch.hand !== other.hand ||
        sharedArea(boxAround(one.at, one.size), boxAround(two.at, two.size)) === 0
      )
        return [];
      const message = `covers "${other.id}" in the picture of the ${touch.hand} hand; move one of the two finger places`;
      return [{ path: ['touches', touch.id, 'finger'], message }];
    }),
  );
}
