/** The picture that goes with a step: which fingering, what to watch, which screw, which part. */
import type { Check, CheckKind } from '../diagnosis/index.ts';
import type { FlowStep } from '../flow/index.ts';
import type { Fingering } from '../mechanism/index.ts';
import {
  drawFingering,
  drawPart,
  drawPress,
  drawTurn,
  drawWatch,
  findPlace,
  type Sight,
} from '../picture/index.ts';
import type { RunBook } from './book.ts';
import { oppositeProofOf, proofOf } from './proof.ts';
import type { RunState } from './run-state.ts';
import type { PictureView } from './view.ts';

const options = { prefix: 'step' } as const;

/** The picture of a step, or null where there is nothing to show. */
export function pictureFor(book: RunBook, state: RunState, step: FlowStep): PictureView | null {
  if (step.kind === 'check') {
    return state.focus.check === null ? null : pictureOfCheck(book, book.model.check(state.focus.check));
  }
  const fault = state.focus.fault;
  if (step.picture === 'none' || fault === null) return null;
  const { place } = book.instrument.fault(fault);
  if (step.picture === 'turn') return pictureOfScrew(book, state, step, place) ?? pictureOfPart(book, place);
  if (step.picture === 'part') return pictureOfPart(book, place);
  const proof = step.picture === 'opposite' ? oppositeProofOf(book, fault) : proofOf(book, fault);
  return proof === null ? pictureOfPart(book, place) : pictureOfCheck(book, proof);
}

/** A fingering as one of several pictures on a page: `use` and the fingering keep their ids apart. */
export function pictureOfFingering(
  { instrument, layout }: RunBook,
  fingering: Fingering,
  use: string,
): PictureView {
  return drawFingering(instrument, layout, fingering, {
    prefix: `${use}-${fingering.id.replace(/[^A-Za-z0-9]/g, '-')}`,
  });
}

/** A cup to look at while touches are held; else the fingering to play; else the part that the check is about. */
function pictureOfCheck(book: RunBook, check: Check): PictureView | null {
  const { instrument, layout, model } = book;
  const { hold = [], watch, tap, beside } = check;
  if (watch !== undefined) {
    const kind = model.knowledge.checks.kinds.find(({ id }) => id === check.kind);
    const request = {
      hold,
      watch,
      sight: kind === undefined ? 'moves' : sightOf(kind),
      ...(tap === undefined ? {} : { tap }),
      ...(beside === undefined ? {} : { beside }),
    } as const;
    return drawWatch(instrument, layout, request, options);
  }
  const fingering = instrument.fingerings.find(({ id }) => id === check.place);
  if (fingering !== undefined) return drawPress(instrument, layout, fingering, options);
  return pictureOfPart(book, check.place);
}

/** What there is to see at the cup: it follows from how the answer is worked out, and by which sense it is found. */
function sightOf({ rule, sense }: CheckKind): Sight {
  switch (rule.by) {
    case 'sealing':
      return sense === 'light' ? 'light' : 'paper';
    case 'pressing':
      return 'press';
    case 'rising':
      return 'rises';
    case 'landing':
      return 'lands';
    case 'sign':
      return sense === 'feel' ? 'push' : sense === 'watch' ? 'moves' : 'rest';
    default:
      return 'moves';
  }
}

function pictureOfPart({ instrument, layout }: RunBook, place: string): PictureView | null {
  return findPlace(instrument, layout, place) === null
    ? null
    : drawPart(instrument, layout, { place }, options);
}

function pictureOfScrew(
  { content, instrument, layout }: RunBook,
  state: RunState,
  { turnsNow }: FlowStep,
  place: string,
): PictureView | null {
  const { procedure, direction, counters } = state.flow.context;
  const chart = content.flow.charts.procedures.find((candidate) => candidate.procedure === procedure);
  const counter = chart?.turns === undefined ? undefined : chart.memory.counters[chart.turns];
  const isScrew = instrument.links.some(({ id, adjuster }) => id === place && adjuster.kind === 'screw');
  if (chart?.turns === undefined || counter === undefined || direction === null || !isScrew) return null;
  const reading = { turnedEighths: counters[chart.turns] ?? 0, limitEighths: counter.to };
  return drawTurn(
    instrument,
    layout,
    { link: place, direction, ...reading, nowEighths: turnsNow ?? 0 },
    options,
  );
}
