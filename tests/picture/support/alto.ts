import { readFileSync } from 'node:fs';
import { parse } from 'yaml';
import { buildInstrument, FingeringsFile, MechanismFile } from '../../../src/mechanism/index.ts';
import { Layout } from '../../../src/picture/index.ts';

function readData(name: string): unknown {
  const file = new URL(`../../../flows/instruments/alto-saxophone/${name}.yaml`, import.meta.url);
  return parse(readFileSync(file, 'utf8'));
}

/** The alto saxophone and its layout, from the files that the program ships. */
export const alto = buildInstrument(
  MechanismFile.parse(readData('mechanism')),
  FingeringsFile.parse(readData('fingerings')),
);
export const layout = Layout.parse(readData('layout'));

/** A copy of the layout that a test may change. */
export function copyLayout(): Layout {
  return structuredClone(layout);
}

export const LOW_D = ['touch.lh1', 'touch.lh2', 'touch.lh3', 'touch.rh1', 'touch.rh2', 'touch.rh3'];
