/** How makers differ: optional parts left out, two like screws the other way round. */

import type { InstrumentFiles } from '../../../../src/content/documents.ts';
import { makeVariant } from '../../../../src/content/variant.ts';
import {
  buildInstrument,
  FingeringsFile,
  type Instrument,
  MechanismFile,
} from '../../../../src/mechanism/index.ts';
import type { Draws } from './draws.ts';
import { MAKERS } from './rates.ts';

/** One maker's instrument as it really is. */
export type Maker = {
  readonly instrument: Instrument;
  /** Ids of the parts of the stock description that it has not. */
  readonly without: readonly string[];
  /** The screws that look alike sit the other way round than described. */
  readonly isSwapped: boolean;
};

const built = new WeakMap<InstrumentFiles, Map<string, Instrument>>();

/**
 * Draws a maker. Parts go that the data call optional, and with them the touches that then move nothing.
 * @throws MechanismError when the instrument does not hang together without a part that the data call optional.
 */
export function drawMaker(files: InstrumentFiles, draws: Draws): Maker {
  const { vents, links, tube } = files['mechanism.yaml'];
  const ofTube = tube === undefined ? [] : [...tube.valves, ...tube.slides, ...tube.waterKeys];
  const optional = [...vents, ...links, ...ofTube].filter(({ presence }) => presence !== 'all');
  const gone = optional.filter(
    ({ id, presence }) => presence !== 'all' && !draws.chance(`maker/${id}`, MAKERS.has[presence]),
  );
  const without = withIdleParts(
    files,
    gone.map(({ id }) => id),
  );
  return {
    instrument: instrumentWithout(files, without),
    without,
    isSwapped: draws.chance('maker/swapped', MAKERS.swapped),
  };
}

/** The parts, and every touch that moves nothing and every link that carries nothing once they are gone. */
function withIdleParts(files: InstrumentFiles, gone: readonly string[]): string[] {
  const { touches, keys, links } = files['mechanism.yaml'];
  const motions = [...touches, ...keys].flatMap(({ moves }) => moves);
  const isIdle = (moves: typeof motions): boolean =>
    moves.length > 0 &&
    moves.every(({ part, link }) => gone.includes(part) || (link !== undefined && gone.includes(link)));
  const idle = [
    ...touches.filter(({ moves }) => isIdle(moves)),
    ...links.filter(({ id }) => isIdle(motions.filter(({ link }) => link === id))),
  ];
  return [...new Set([...gone, ...idle.map(({ id }) => id)])].sort();
}

/** The instrument without these parts and what moves nothing without them. @throws MechanismError as {@link drawMaker} */
export function instrumentWithout(files: InstrumentFiles, without: readonly string[]): Instrument {
  const known = built.get(files) ?? new Map<string, Instrument>();
  built.set(files, known);
  const gone = withIdleParts(files, without);
  const key = gone.join(' ');
  const instrument = known.get(key) ?? build(files, gone);
  known.set(key, instrument);
  return instrument;
}

function build(files: InstrumentFiles, without: readonly string[]): Instrument {
  const { instrument } = files['mechanism.yaml'];
  const variant = makeVariant(
    files,
    {
      variantOf: instrument.id,
      instrument: { id: instrument.id, name: instrument.name, source: ['estimate'] },
      without: [...without],
    },
    'simulated maker',
  );
  return buildInstrument(
    MechanismFile.parse(variant.files['mechanism.yaml']),
    FingeringsFile.parse(variant.files['fingerings.yaml']),
  );
}
