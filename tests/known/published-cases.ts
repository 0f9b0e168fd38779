/** Which published cases are entered for which instrument; a variant's stand with the one that it is told from. */
import { brassCases } from '../diagnosis/published/brass-cases.ts';
import { publishedCases } from '../diagnosis/published/cases.ts';
import { publishedClarinetCases } from '../diagnosis/published/clarinet-cases.ts';
import { bassoonCases, oboeCases } from '../diagnosis/published/double-reed-cases.ts';
import { fluteCases } from '../diagnosis/published/flute-cases.ts';

type Case = { readonly source: string };

/** Lists that are about one instrument do not name it in each case. */
const ofOne = {
  'alto-saxophone': publishedCases,
  'bb-clarinet': publishedClarinetCases,
  oboe: oboeCases,
  bassoon: bassoonCases,
};

export const casesByInstrument: Readonly<Record<string, readonly Case[] | undefined>> = {
  ...ofOne,
  ...Object.groupBy([...fluteCases, ...brassCases], ({ instrument }) => instrument),
};
