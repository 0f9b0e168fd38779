/** The picture that goes with a step: which fingering, what to watch, which screw, which part. */
import type { Check } from '../diagnosis/index.ts';
import type { FlowStep } from '../flow/index.ts';
import type { Fingering } from '../mechanism/index.ts';
import { drawFingering, drawPart, drawTurn, drawWatch, findPlace } from '../picture/index.ts';
import type { RunBook } from './book.ts';
import { proofOf } from './proof.ts';
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
  if (step.picture === 'turn') return pictureOfScrew(book, state, place) ?? pictureOfPart(book, place);
  if (step.picture === 'part') return pictureOfPart(book, place);
  const proof = proofOf(book, fault);
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

/** A cup to watch while touches are held; else the fingering to play; else the part that the check is about. */
function pictureOfCheck(book: RunBook, check: Check): PictureView | null {
  const { instrument, layout } = book;
  if (check.watch !== undefined) {
    return drawWatch(
      instrument,
      layout,
      { hold: check.hold ?? [], watch: check.watch, ...(check.tap === undefined ? {} : { tap: check.tap }) },
      options,
    );
  }
  if (check.kind === 'play')
    return drawFingering(instrument, layout, instrument.fingering(check.place), options);
  return pictureOfPart(book, check.place);
}

function pictureOfPart({ instrument, layout }: RunBook, place: string): PictureView | null {
  return findPlace(instrument, layout, place) === null
    ? null
    : drawPart(instrument, layout, { place }, options);
}

function pictureOfScrew(
  { content, instrument, layout }: RunBook,
  state: RunState,
  place: string,
): PictureView | null {
  const { procedure, direction, counters } = state.flow.context;
  const chart = content.flow.charts.procedures.find((candidate) => candidate.procedure === procedure);
  const counter = chart?.turns === undefined ? undefined : chart.memory.counters[chart.turns];
  const isScrew = instrument.links.some(({ id, adjuster }) => id === place && adjuster.kind === 'screw');
  if (chart?.turns === undefined || counter === undefined || direction === null || !isScrew) return null;
  return drawTurn(
    instrument,
    layout,
    { link: place, direction, turnedEighths: counters[chart.turns] ?? 0, limitEighths: counter.to },
    options,
  );
}
