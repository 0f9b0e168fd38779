export { drawFingering, type FingeringOptions } from './fingering.ts';
export type { Picture, PictureOptions } from './frame.ts';
export { checkLayout, findLayoutProblems, LayoutError, type LayoutProblem } from './layout-check.ts';
export { drawPart } from './part.ts';
export { findPlace, type Place } from './place.ts';
export { Layout } from './schema.ts';
export { drawTurn, type TurnRequest } from './turn.ts';
export { drawWatch, type WatchRequest } from './watch.ts';
export { eighthsWords, fingeringWords, touchesWords } from './words.ts';
