/** Which published cases are entered for which instrument; a variant's stand with the one that it is told from. */
import { publishedCases } from '../diagnosis/published/cases.ts';
import { publishedClarinetCases } from '../diagnosis/published/clarinet-cases.ts';
import { fluteCases } from '../diagnosis/published/flute-cases.ts';

export const casesByInstrument: Readonly<Record<string, readonly { readonly source: string }[]>> = {
  'alto-saxophone': publishedCases,
  'bb-clarinet': publishedClarinetCases,
  flute: fluteCases.filter(({ instrument }) => instrument === 'flute'),
};
