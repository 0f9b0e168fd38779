/** The tube of a brass instrument told in full: its valves, slides and water keys, and what each fingering plays on it. */
import { type Fingering, type Instrument, planOnTube, positionsOf, tuningOf } from '../mechanism/index.ts';
import { tubeWhereWords } from '../picture/index.ts';
import type { InstrumentDetail } from '../web/instrument-schema.ts';

type Told = {
  readonly id: string;
  readonly name: string;
  readonly alsoCalled: readonly string[];
  readonly presence: string;
  readonly source: readonly string[];
  readonly remark?: string | undefined;
};

/** The parts of the tube; null for an instrument with cups. */
export function describeTube(instrument: Instrument): InstrumentDetail['tube'] {
  const { tube } = instrument;
  if (tube === null) return null;
  const described = ({ id, name, alsoCalled, presence, source, remark }: Told) => ({
    id,
    name,
    alsoCalled: [...alsoCalled],
    presence,
    where: tubeWhereWords(instrument, instrument.part(id)),
    source: [...source],
    remark: remark ?? null,
  });
  return {
    valves: tube.valves.map((valve) => ({ ...described(valve), sort: valve.sort })),
    slides: tube.slides.map((slide) => ({
      ...described(slide),
      lowers: slide.lowers,
      positions: slide.positions ?? null,
    })),
    waterKeys: tube.waterKeys.map(described),
    pairs: tube.pairs.map(({ id, name }) => ({ id, name })),
  };
}

/** Which partial a fingering plays, where the slide stands, and how many cents it lies off; nulls for an instrument with cups. */
export function describeOnTube({ tube }: Instrument, fingering: Fingering) {
  if (tube === null) return { partial: null, position: null, cents: null };
  return {
    partial: planOnTube(tube, fingering).partial,
    position: positionsOf(tube) > 1 ? (fingering.position ?? 1) : null,
    cents: Math.round(tuningOf(tube, fingering)),
  };
}
