/** One simulated complaint from the first page to the last, and what the other policies would have made of it. */

import { parseDocuments } from '../../../src/content/documents.ts';
import { type Content, loadContent } from '../../../src/content/index.ts';
import { buildDiagnosisModel, type Person } from '../../../src/diagnosis/index.ts';
import { deedFor, truthIds } from './measures/guess.ts';
import type { Result } from './measures/result.ts';
import { ceilingOf } from './policies/ceiling.ts';
import { walkCharts } from './policies/charts.ts';
import { decideByList } from './policies/checklist.ts';
import { decideKnowing } from './policies/knowing.ts';
import { type Draw, drawCase, type Stock, type Weather } from './simulator/case.ts';
import { seesDanger } from './simulator/person.ts';

export type Laboratory = {
  readonly content: Content;
  stock(instrument: string): Stock;
  /** The content with an engine that takes all faults of this instrument for equally frequent. */
  flat(instrument: string): Content;
};

/** Opens the content under flows/ together with the files that it was made from. */
export function openLaboratory(content: Content = loadContent(flowsFolder)): Laboratory {
  const { files } = parseDocuments(content.documents);
  const flattened = new Map<string, Content>();
  return {
    content,
    stock(instrument) {
      const entry = content.instruments.get(instrument);
      const own = files.instruments.get(instrument);
      if (entry === undefined || own === undefined)
        throw new RangeError(`there is no instrument "${instrument}"`);
      return { files: own as Stock['files'], model: entry.model };
    },
    flat(instrument) {
      const known = flattened.get(instrument) ?? flatten(content, instrument);
      flattened.set(instrument, known);
      return known;
    },
  };
}

/** Pairs of equally frequent faults are all equally rare; none is followed. */
function flatten(content: Content, instrument: string): Content {
  const entry = content.instruments.get(instrument)!;
  const { knowledge } = entry.model;
  const { frequencies } = knowledge;
  const listed = frequencies.groups.reduce((sum, { per100 }) => sum + per100, 0);
  const each = { per100: listed / entry.instrument.faults.length, source: frequencies.unlisted.source };
  const flat = { ...frequencies, groups: [], unlisted: each, rarestPair: 1 };
  const model = buildDiagnosisModel(entry.instrument, { ...knowledge, frequencies: flat });
  return { ...content, instruments: new Map([...content.instruments, [instrument, { ...entry, model }]]) };
}

const flowsFolder = new URL('../../../flows/', import.meta.url).pathname;

export type Order = {
  readonly instrument: string;
  readonly person: Person;
  readonly seed: number;
  readonly weather?: Weather;
  readonly draw?: Draw;
  /** The engine takes all faults for equally frequent. */
  readonly isFlat?: boolean;
  /** `walk` the charts alone; `ceiling` also what could be known at best; `all` also what knows the truth, and the list. */
  readonly extent?: 'walk' | 'ceiling' | 'all';
};

/** Carries an order out. @throws RangeError for an unknown instrument. */
export function runCase(laboratory: Laboratory, order: Order): Result {
  const { instrument, person, seed, weather, draw, extent = 'all', isFlat = false } = order;
  const stock = laboratory.stock(instrument);
  const the = drawCase(stock, seed, person, {
    ...(weather === undefined ? {} : { weather }),
    ...(draw === undefined ? {} : { draw }),
  });
  const content = isFlat ? laboratory.flat(instrument) : laboratory.content;
  return {
    instrument,
    person,
    seed,
    truth: truthIds(the.truth),
    deeds: truthIds(the.truth).map((id) => deedFor(stock.model, id, the.situation)),
    danger: the.truth.danger === 'none' ? 'none' : seesDanger(the) ? 'seen' : 'overlooked',
    ...walkCharts(content, instrument, the),
    ceiling: extent === 'walk' ? null : ceilingOf(content.instruments.get(instrument)!.model, the),
    knowing: extent === 'all' ? decideKnowing(stock.model, the) : null,
    checklist: extent === 'all' ? decideByList(stock.model, the) : null,
  };
}
