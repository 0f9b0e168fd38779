import type { Instrument } from '../mechanism/index.ts';
import { boreStretch, outlineBox } from './bore.ts';
import { type Box, boxAround, boxOver, boxOverPoints, growBox, type Point } from './geometry.ts';
import type { Layout } from './schema.ts';
import { slideStations, tubePartBox } from './tube-parts.ts';

/** A part as it lies in the drawing space: the middle of its mark, the room it takes, and its name. */
export type Place = { readonly id: string; readonly name: string; readonly at: Point; readonly box: Box };

/** No detail shows less than this many layout units: a cup needs its neighbours to be found. */
const SMALLEST_WINDOW = 150;

/** Half the room that a screw, cork or tab takes in the drawing space. */
const LINK_REACH = 9;

/**
 * Where a part lies: a vent, touch, key, link, joint, stretch of bore or set-up cause (which lies at the mouthpiece
 * unless the layout says where).
 * Null for an id without a place on the instrument, such as a cause that lies with the player.
 */
export function findPlace(instrument: Instrument, layout: Layout, id: string): Place | null {
  const box = findBox(instrument, layout, id);
  if (box === null || !instrument.hasPart(id)) return null;
  const part = instrument.part(id);
  const bore = layout.bores[id];
  const isSlide = layout.tube?.slides[id] !== undefined;
  // The middle of a bent stretch lies on its tube, not in the middle of its box.
  const stretch = bore ? boreStretch(layout, bore.from, bore.to) : isSlide ? slideStations(layout, id) : [];
  const middle = stretch[Math.floor(stretch.length / 2)];
  const at: Point = middle
    ? [middle[0], middle[1]]
    : [(box.left + box.right) / 2, (box.top + box.bottom) / 2];
  return { id, name: part.name, at, box };
}

function findBox(instrument: Instrument, layout: Layout, id: string): Box | null {
  const [vent, touch, key, link, joint, bore] = [
    layout.vents[id],
    layout.touches[id],
    layout.keys[id],
    layout.links[id],
    layout.joints[id],
    layout.bores[id],
  ];
  if (vent) return boxAround(vent.at, [vent.size, vent.size]);
  if (touch) return boxAround(touch.at, touch.size);
  if (key) return boxOverPoints(key.arms.flat());
  if (link) return boxAround(link.at, [LINK_REACH * 2, LINK_REACH * 2]);
  if (joint) return boxAround(joint.at, joint.size);
  if (bore) return outlineBox(boreStretch(layout, bore.from, bore.to));
  const cause = layout.causes?.[id];
  if (cause) return boxAround(cause.at, cause.size);
  const inTube = tubePartBox(layout, id, pairOf(instrument, id));
  if (inTube !== null) return inTube;
  const isSetUp = instrument.causes.some((cause) => cause.id === id && cause.group === 'set-up');
  const mouthpieces = layout.body.filter((piece) => piece.look === 'mouthpiece');
  if (isSetUp && mouthpieces.length > 0)
    return boxOver(mouthpieces.map((piece) => outlineBox(piece.stations)));
  return null;
}

/** The two valves of a pair; none for every other part. */
function pairOf({ tube }: Instrument, id: string): string[] {
  const pair = tube?.pairs.find((known) => known.id === id);
  return pair === undefined ? [] : pair.valves.map((valve) => tube!.valves[valve]!.id);
}

/** The place of a part; throws RangeError, naming what to do, when it has none. */
export function placeOf(instrument: Instrument, layout: Layout, id: string): Place {
  const place = findPlace(instrument, layout, id);
  if (place === null) {
    throw new RangeError(
      `"${id}" has no place on ${instrument.name}; draw only cups, touches, keys, links, joints, bore stretches and set-up causes`,
    );
  }
  return place;
}

/** The window for a detail: the boxes with some room around them, never closer than the smallest useful view. */
export function chooseWindow(boxes: readonly Box[], margin: number): Box {
  const box = growBox(boxOver(boxes), margin);
  const missingX = Math.max(0, SMALLEST_WINDOW - (box.right - box.left)) / 2;
  const missingY = Math.max(0, SMALLEST_WINDOW - (box.bottom - box.top)) / 2;
  return {
    left: box.left - missingX,
    right: box.right + missingX,
    top: box.top - missingY,
    bottom: box.bottom + missingY,
  };
}
