import type { Instrument } from '../mechanism/index.ts';
import type { Point } from './geometry.ts';
import { drawParagraph } from './labels.ts';
import { drawInstrument, drawPanelEdge, drawRing, drawWindowEdge } from './marks.ts';
import { createPanel, createWholePanel, drawPanel } from './panel.ts';
import { chooseWindow, findPlace, type Place, placeOf } from './place.ts';
import type { Layout } from './schema.ts';
import { drawScrewDetail, type ScrewScene } from './screw-detail.ts';

export const SCREW_WIDTH = 340;
export const SCREW_HEIGHT = 330;
/** The column of the whole, and of the dial under it. */
export const SCREW_COLUMN = 112;

/** The scene around the screw of a link. Throws RangeError when the link is unknown. */
export function findScrewScene(instrument: Instrument, layout: Layout, linkId: string): ScrewScene {
  const link = instrument.link(linkId);
  const { drivers, targets } = instrument.linkEnds(linkId);
  const other = link.adjuster.lookAlike;
  return {
    layout,
    screw: placeOf(instrument, layout, linkId),
    lookAlike: other === undefined ? null : findPlace(instrument, layout, other),
    driving: drivers.map((part) => placeOf(instrument, layout, part.id)),
    driven: targets.map((part) => placeOf(instrument, layout, part.id)),
  };
}

/**
 * The whole with the screw ringed, beside it the detail, under a heading; SCREW_WIDTH by SCREW_HEIGHT. `below` is the
 * room that stays free under both.
 */
export function drawScrewScene(
  scene: ScrewScene,
  direction: 'in' | 'out' | null,
  heading: string,
  below: { whole: number; detail: number } = { whole: 0, detail: 0 },
): string {
  const { layout, screw, lookAlike, driven } = scene;
  const cups = driven.filter((place) => layout.keys[place.id] === undefined).map((place) => place.box);
  const window = chooseWindow([screw.box, ...(lookAlike ? [lookAlike.box] : []), ...cups], 34);
  const [left, top]: Point = [SCREW_COLUMN, 46];
  const detail = createPanel(
    [left, top],
    [SCREW_WIDTH - left - 1, SCREW_HEIGHT - top - 1 - below.detail],
    window,
    layout.space,
  );
  const whole = createWholePanel([0, top], [left - 8, SCREW_HEIGHT - top - below.whole], layout.space);
  const works = `It works the ${listNames(driven)}`;
  return [
    drawParagraph('strong', [heading], [2, 17], 16),
    // Makers place look-alike screws differently; the arm under a screw tells which one it is.
    drawParagraph('head', [cups.length > 0 ? `${works}: follow its arm.` : `${works}.`], [2, 37], 14),
    drawPanel(
      whole,
      drawInstrument(layout, whole, 'whole'),
      drawWindowEdge(whole, detail.window),
      drawRing('turn', whole, screw.box, 2),
    ),
    drawPanel(detail, drawScrewDetail(scene, direction, detail)),
    drawPanelEdge(detail),
  ].join('');
}

/** The screw in words: what works what through it, and which one it is not. */
export function screwWords({ screw, lookAlike, driving, driven }: ScrewScene): {
  screw: string;
  notThis: string;
} {
  return {
    screw: `the screw by which the ${listNames(driving)} works the ${listNames(driven)} (${screw.name})`,
    notThis: lookAlike ? ` Not the screw beside it that looks alike (${lookAlike.name}).` : '',
  };
}

function listNames(places: readonly Place[]): string {
  return places.map((place) => place.name).join(' and the ');
}
