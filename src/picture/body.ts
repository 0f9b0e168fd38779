import { outlineBox, outlineData } from './bore.ts';
import { type Box, boxAround, type Point, sharedArea } from './geometry.ts';
import { circleData, element, lineData, path, pillData } from './markup.ts';
import type { Panel } from './panel.ts';
import type { Layout } from './schema.ts';

type Station = readonly [number, number, number];

const projectStations = (panel: Panel, stations: readonly Station[]): Station[] =>
  stations.map(([x, y, half]) => [...panel.project([x, y]), half * panel.scale] as const);

/** The body in outline: mouthpiece, neck, tube and the rim of the bell; only the pieces that the panel shows. */
export function drawBody(layout: Layout, panel: Panel): string {
  const pieces = layout.body
    .filter((piece) => isShown(panel, outlineBox(piece.stations)))
    .map((piece) =>
      path(
        piece.look === 'mouthpiece' ? 'mouthpiece' : 'body',
        outlineData(projectStations(panel, piece.stations)),
      ),
    );
  if (layout.rim === undefined) return pieces.join('');
  const { at, size } = layout.rim;
  if (!isShown(panel, boxAround(at, size))) return pieces.join('');
  const [cx, cy] = panel.project(at);
  const rim = {
    class: 'picture-rim',
    cx,
    cy,
    rx: (size[0] / 2) * panel.scale,
    ry: (size[1] / 2) * panel.scale,
  };
  return pieces.join('') + element('ellipse', rim);
}

/** A stretch of bore as a shape of its own, to mark it. */
export function drawStretch(panel: Panel, className: string, stations: readonly Station[]): string {
  return path(className, outlineData(projectStations(panel, stations)));
}

/** Whether any of a box of layout units lies in the panel's window. */
export function isShown(panel: Panel, box: Box): boolean {
  return sharedArea(panel.window, box) > 0;
}

/** All cups as rings, those behind the instrument dashed; gathered into few paths, because every element costs bytes. */
export function drawCups(layout: Layout, panel: Panel): string {
  const rings = (isHidden: boolean, share: number) =>
    circlesOf(layout, panel, share, ({ look, hidden = false }) => look !== 'hole' && hidden === isHidden);
  return (
    path('hidden', rings(true, 1)) + path('cup', rings(false, 1)) + path('cup-middle', rings(false, 0.42))
  );
}

/** The holes that fingers cover, those behind the instrument dashed; to be drawn over their touches. */
export function drawHoles(layout: Layout, panel: Panel): string {
  const holes = (isHidden: boolean) =>
    circlesOf(layout, panel, 1, ({ look, hidden = false }) => look === 'hole' && hidden === isHidden);
  return path('hidden', holes(true)) + path('hole', holes(false));
}

function circlesOf(
  layout: Layout,
  panel: Panel,
  share: number,
  isMeant: (place: Layout['vents'][string]) => boolean,
): string {
  return Object.values(layout.vents)
    .filter((place) => isMeant(place) && isShown(panel, boxAround(place.at, [place.size, place.size])))
    .map(({ at, size }) => circleData(panel.project(at), (size / 2) * share * panel.scale))
    .join('');
}

/** The arms of all touches, cups and keys, as broken lines of layout units. */
export function listArms({ touches, vents, keys }: Layout): (readonly Point[])[] {
  return [...Object.values(touches), ...Object.values(vents), ...Object.values(keys)].flatMap(
    (part) => part.arms ?? [],
  );
}

/** All arms that the panel shows, as thin metal. */
export function drawArms(layout: Layout, panel: Panel): string {
  const arms = listArms(layout).filter((arm) =>
    arm.slice(1).some((end, index) => isShown(panel, segmentBox(arm[index]!, end))),
  );
  return path('arm', arms.map((arm) => lineData(arm.map(panel.project))).join(''));
}

function segmentBox([ax, ay]: readonly [number, number], [bx, by]: readonly [number, number]): Box {
  const middle = [(ax + bx) / 2, (ay + by) / 2] as const;
  return boxAround(middle, [Math.abs(bx - ax) + 1, Math.abs(by - ay) + 1]);
}

/** All touches at rest, those behind the instrument dashed. */
export function drawTouches(layout: Layout, panel: Panel): string {
  const shapes = (isHidden: boolean) =>
    Object.values(layout.touches)
      .filter(({ at, size, hidden }) => (hidden ?? false) === isHidden && isShown(panel, boxAround(at, size)))
      .map(({ at, size }) => pillData(panel.project(at), [size[0] * panel.scale, size[1] * panel.scale]))
      .join('');
  return path('touch', shapes(false)) + path('hidden', shapes(true));
}
