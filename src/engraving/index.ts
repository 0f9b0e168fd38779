// The edge that engraves: one written note on a staff as a small SVG picture, made ahead in a thread of its own and kept.
export { openStaves, type Staff, type Staves } from './staves.ts';
