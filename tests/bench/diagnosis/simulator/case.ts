/** One simulated complaint: an instrument with something hidden in it, and the person who has it in hand. */
import type { InstrumentFiles } from '../../../../src/content/documents.ts';
import { faultRates } from '../../../../src/diagnosis/hypotheses.ts';
import type { DiagnosisModel, Person, Situation, Tool } from '../../../../src/diagnosis/index.ts';
import { type Fault, midi, type PlacedFault, severitiesOf } from '../../../../src/mechanism/index.ts';
import { type Draws, drawsOf } from './draws.ts';
import { drawMaker, type Maker } from './maker.ts';
import { CAN_PLAY, DANGER, TOOLS, UNLISTED } from './rates.ts';

/** A crack or a seam: which column passes it, and what it costs. */
export type Unlisted = { readonly above: number; readonly decibels: number };

export type Truth = {
  readonly faults: readonly PlacedFault[];
  /** What is in no list; null for nothing of the kind. */
  readonly unlisted: Unlisted | null;
  /** A sign that sends it to the bench at once, whoever looks. */
  readonly danger: 'none' | 'sharp' | 'broken' | 'bent';
};

/** How strongly people err, as a multiple of the stated rates, and how often they could not tell beyond that. */
export type Weather = { readonly noise: number; readonly cannotTell: number };
export const ORDINARY: Weather = { noise: 1, cannotTell: 0 };

/** Which instruments are drawn: as they come, always with two faults, or always with a danger sign. */
export type Draw = 'as-they-come' | 'two-faults' | 'danger';

export type Case = {
  readonly seed: number;
  readonly maker: Maker;
  readonly truth: Truth;
  readonly situation: Situation;
  readonly weather: Weather;
  readonly draws: Draws;
};

/** The stock instrument: its files, and the model that the engine reasons with. */
export type Stock = { readonly files: InstrumentFiles; readonly model: DiagnosisModel };

/** Draws the case of a seed. The same seed gives the same case for the same data. */
export function drawCase(
  stock: Stock,
  seed: number,
  person: Person,
  { weather = ORDINARY, draw = 'as-they-come' }: { weather?: Weather; draw?: Draw } = {},
): Case {
  const draws = drawsOf(`${stock.model.instrument.id}/${person}/${seed}`);
  const maker = drawMaker(stock.files, draws);
  return {
    seed,
    maker,
    truth: drawTruth(stock, maker, draws, draw),
    situation: drawSituation(person, draws),
    weather,
    draws,
  };
}

/**
 * Draws what is the matter, as often as frequencies.yaml says. Faults are independent, so beside one fault another stands
 * with half the mean number of faults (Poisson, cut off at two).
 */
export function drawTruth(
  { model, files }: Stock,
  maker: Maker,
  draws: Draws,
  draw: Draw = 'as-they-come',
): Truth {
  const { healthy, somethingElse, meanFaults } = files['frequencies.yaml'];
  const rates = presentFaults(model, files, maker);
  const one = rates.reduce((sum, { rate }) => sum + rate, 0);
  const kind =
    draw === 'as-they-come'
      ? draws.pick(
          'truth',
          [
            { is: 'healthy', weight: healthy.per100 },
            { is: 'unlisted', weight: somethingElse.per100 },
            { is: 'one', weight: one },
            { is: 'two', weight: (one * meanFaults.value) / 2 },
          ],
          ({ weight }) => weight,
        ).is
      : draw === 'two-faults'
        ? 'two'
        : 'one';
  const faults: PlacedFault[] = [];
  const add = (name: string) => {
    const elsewhere = rates.filter(({ fault }) => faults.every((other) => other.fault.place !== fault.place));
    const { fault } = draws.pick(`truth/${name}`, elsewhere, ({ rate }) => rate);
    const { shares } = files['frequencies.yaml'].severity;
    const severity = draws.pick(`truth/${name}/severity`, severitiesOf(fault), (size) => shares[size]);
    faults.push({ fault, severity });
  };
  if (kind === 'one' || kind === 'two') add('first');
  if (kind === 'two') add('second');
  return {
    faults,
    unlisted: kind === 'unlisted' ? drawUnlisted(model, draws) : null,
    danger: drawDanger(faults, draws, draw),
  };
}

function drawUnlisted({ instrument: { range } }: DiagnosisModel, draws: Draws): Unlisted {
  const lowest = midi(range.lowest);
  return {
    above: lowest + Math.floor(draws.uniform('truth/crack') * 18),
    decibels: UNLISTED.least + draws.uniform('truth/crack/size') * (UNLISTED.most - UNLISTED.least),
  };
}

/** A grossly bent part is a danger sign in itself. */
function drawDanger(faults: readonly PlacedFault[], draws: Draws, draw: Draw): Truth['danger'] {
  if (draw === 'danger' || draws.chance('danger', DANGER.isThere))
    return draws.pick('danger/which', ['sharp', 'broken', 'bent'] as const);
  return faults.some(({ fault, severity }) => fault.kind === 'bent' && severity === 'gross')
    ? 'bent'
    : 'none';
}

function drawSituation(person: Person, draws: Draws): Situation {
  const owner = draws.chance('owner allows', 0.75);
  return {
    person,
    tools: (Object.keys(TOOLS) as Tool[]).filter((tool) =>
      draws.chance(`tool/${tool}`, TOOLS[tool]![person]),
    ),
    canPlay: draws.chance('can play', CAN_PLAY[person]),
    ownerAllows: owner,
  };
}

type Rated = { readonly fault: Fault; readonly rate: number };

/** The faults that this maker's instrument can have, with their frequencies where the part is there. */
function presentFaults(model: DiagnosisModel, files: InstrumentFiles, { instrument }: Maker): Rated[] {
  const always = { ...files['frequencies.yaml'].presence, all: 1, most: 1, some: 1 };
  const rates = faultRates(model.instrument, { ...files['frequencies.yaml'], presence: always });
  const has = new Set(instrument.faults.map(({ id }) => id));
  return model.instrument.faults
    .map((fault, index) => ({ fault, rate: rates[index]! }))
    .filter(({ fault }) => has.has(fault.id));
}
