/** Everything under flows/, read, checked and joined. */
export { assembleContent, type Content, type InstrumentContent } from './assemble.ts';
export { ContentError, type ContentProblem, tellProblem } from './content-error.ts';
export type { Documents } from './documents.ts';
export { editionOf, toCanonicalJson } from './edition.ts';
export { demandPlainWords, loadContent, loadFlow } from './load.ts';
export { joinPieces } from './pieces.ts';
