import type { Instrument } from '../mechanism/index.ts';
import { drawStretch } from './body.ts';
import { boreStretch } from './bore.ts';
import { framePicture, type Picture, type PictureOptions } from './frame.ts';
import { drawLabels, type Label, wrapText } from './labels.ts';
import { drawInstrument, drawPanelEdge, drawRing, drawWindowEdge, listObstacles } from './marks.ts';
import { lineData, path } from './markup.ts';
import { createPanel, createWholePanel, drawPanel, isWide, type Panel } from './panel.ts';
import { chooseWindow, type Place, placeOf } from './place.ts';
import type { Layout } from './schema.ts';
import type { ScrewScene } from './screw-detail.ts';
import { drawScrewScene, findScrewScene, SCREW_HEIGHT, SCREW_WIDTH, screwWords } from './screw-scene.ts';
import { slideStations } from './tube-parts.ts';
import { whereWords } from './where.ts';
import { capitalize } from './words.ts';

const WIDTH = 340;

/**
 * "This part": any one cup, touch, key, link, joint, stretch of bore or set-up cause, marked on the whole instrument
 * and in a detail. Throws RangeError when the id has no place on the instrument.
 */
export function drawPart(
  instrument: Instrument,
  layout: Layout,
  request: { readonly place: string },
  options: PictureOptions,
): Picture {
  const place = placeOf(instrument, layout, request.place);
  const link = instrument.links.find((known) => known.id === place.id);
  if (link?.adjuster.kind === 'screw')
    return drawScrewPlace(findScrewScene(instrument, layout, link.id), options);
  const { whole, detail, height } = layPanels(layout, place);
  // What stands in brackets explains the name; there is no room for it on the drawing.
  const shortName = place.name.replace(/ \(.*\)$/, '');
  return framePicture(
    options,
    'part',
    [WIDTH, height],
    `Where it is: ${shortName}`,
    `${capitalize(place.name)}: ${whereWords(instrument, layout, place)}. ${layout.seen}`,
    drawPanel(
      whole,
      drawMarked(layout, place, whole, 'whole', ['here']),
      drawWindowEdge(whole, detail.window),
    ),
    drawPanel(detail, drawMarked(layout, place, detail, 'detail', wrapText(shortName, 14, 120))),
    drawPanelEdge(detail),
  );
}

/** The whole beside its detail, or above it. */
function layPanels(layout: Layout, place: Place): { whole: Panel; detail: Panel; height: number } {
  const window = chooseWindow([place.box], 40);
  if (!isWide(layout.space)) {
    const whole = createWholePanel([0, 0], [150, 306], layout.space);
    return { whole, detail: createPanel([158, 4], [181, 240], window, layout.space), height: 308 };
  }
  const high = Math.min(170, (WIDTH * layout.space[1]) / layout.space[0]);
  const whole = createWholePanel([0, 0], [WIDTH, high], layout.space);
  return {
    whole,
    detail: createPanel([1, high + 8], [WIDTH - 2, 150], window, layout.space),
    height: high + 160,
  };
}

/** A screw is found by what it joins, and must be told from its look-alike. */
function drawScrewPlace(scene: ScrewScene, options: PictureOptions): Picture {
  const { screw, notThis } = screwWords(scene);
  return framePicture(
    options,
    'part',
    [SCREW_WIDTH, SCREW_HEIGHT + 1],
    `Where it is: ${scene.screw.name}`,
    `This is ${screw}.${notThis} ${scene.layout.seen}`,
    drawScrewScene(scene, null, 'This is the screw.'),
  );
}

function drawMarked(
  layout: Layout,
  place: Place,
  panel: Panel,
  view: 'whole' | 'detail',
  lines: readonly string[],
): string {
  const mark = drawMark(layout, place, panel);
  const reach = ((place.box.bottom - place.box.top) / 2) * panel.scale + 7;
  const label: Label = {
    lines,
    anchor: panel.project(place.at),
    clear: mark.isRing ? Math.max(8, reach) : 10,
    size: 14,
    className: 'watch',
    pointer: 'arrow',
  };
  return (
    drawInstrument(layout, panel, view) +
    mark.markup +
    drawLabels([label], panel.size, listObstacles(layout, panel, []))
  );
}

/** A stretch of tube gets a thick outline, a key thick arms, everything else a thick ring. */
function drawMark(layout: Layout, place: Place, panel: Panel): { markup: string; isRing: boolean } {
  const bore = layout.bores[place.id];
  if (bore)
    return { markup: drawStretch(panel, 'stretch', boreStretch(layout, bore.from, bore.to)), isRing: false };
  if (layout.tube?.slides[place.id] !== undefined)
    return { markup: drawStretch(panel, 'stretch', slideStations(layout, place.id)), isRing: false };
  const key = layout.keys[place.id];
  if (key) {
    const arms = key.arms.map((arm) => lineData(arm.map(panel.project))).join('');
    return { markup: path('stretch', arms), isRing: false };
  }
  return { markup: drawRing('watch', panel, place.box, 5), isRing: true };
}
