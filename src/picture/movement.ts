import { type Instrument, ventStates } from '../mechanism/index.ts';
import type { Point } from './geometry.ts';
import { arrowData, element, lineData, path, textLine } from './markup.ts';

/** What a healthy cup does in a check. */
export type Movement = 'stays-shut' | 'stays-open' | 'closes' | 'opens';

type Sight = { readonly lift: number; readonly arrow: 'up' | 'down' | null; readonly words: string };

/** For each healthy movement: what must happen, and how it looks when it is right and when it is not. */
const SIGHTS: Readonly<Record<Movement, { must: string; good: Sight; fault: Sight }>> = {
  'stays-shut': {
    must: 'must stay shut and not stir',
    good: { lift: 0, arrow: null, words: 'stays shut' },
    fault: { lift: 12, arrow: 'up', words: 'lifts' },
  },
  'stays-open': {
    must: 'must stay open and not stir',
    good: { lift: 16, arrow: null, words: 'stays open' },
    fault: { lift: 7, arrow: 'down', words: 'drops' },
  },
  closes: {
    must: 'must go right down and shut',
    good: { lift: 0, arrow: 'down', words: 'goes down' },
    fault: { lift: 5, arrow: 'down', words: 'stops short' },
  },
  opens: {
    must: 'must lift and stand open',
    good: { lift: 16, arrow: 'up', words: 'opens' },
    fault: { lift: 3, arrow: null, words: 'hardly moves' },
  },
};

/**
 * What a healthy cup does, computed from the mechanism: between holding the touches and also tapping one, or, without
 * a tap, between nothing pressed and the touches held. Throws RangeError when the instrument has no such vent.
 */
export function expectMovement(
  instrument: Instrument,
  check: { readonly hold: readonly string[]; readonly tap?: string | undefined; readonly watch: string },
): Movement {
  const index = instrument.vents.findIndex((vent) => vent.id === check.watch);
  if (index < 0) throw new RangeError(`${instrument.name} has no vent "${check.watch}" to watch`);
  const isOpen = (touches: readonly string[]) => ventStates(instrument, [...touches], [])[index]!.open;
  const before = isOpen(check.tap === undefined ? [] : check.hold);
  const after = isOpen(check.tap === undefined ? check.hold : [...check.hold, check.tap]);
  if (before === after) return after ? 'stays-open' : 'stays-shut';
  return after ? 'opens' : 'closes';
}

/** What the watched cup must do, in words that follow its name. */
export function movementWords(movement: Movement): { must: string; good: string; fault: string } {
  const { must, good, fault } = SIGHTS[movement];
  return { must, good: good.words, fault: fault.words };
}

/** Two views from the side: the cup on its tone hole as it should be, and as the fault shows itself. 172 by 116. */
export function drawMovement(movement: Movement, [x, y]: Point): string {
  const { good, fault } = SIGHTS[movement];
  return (
    drawSight('good', 'good', good, [x, y]) +
    drawSight('fault', 'fault', fault, [x + 88, y]) +
    textLine('small', 'seen from the side', [x + 86, y + 112], { size: 12 })
  );
}

function drawSight(kind: 'good' | 'fault', word: string, sight: Sight, [x, y]: Point): string {
  const middle = x + 42;
  const hole = y + 76;
  const cup = hole - 5 - sight.lift;
  const tilt = sight.lift / 3;
  const sign =
    kind === 'good'
      ? lineData([
          [x + 8, y + 11],
          [x + 13, y + 16],
          [x + 22, y + 5],
        ])
      : lineData([
          [x + 9, y + 5],
          [x + 20, y + 16],
        ]) +
        lineData([
          [x + 20, y + 5],
          [x + 9, y + 16],
        ]);
  const arrow = sight.arrow === null ? '' : arrowData(...arrowEnds(sight.arrow, [x + 74, cup]), 7);
  return [
    element('rect', { class: 'picture-edge', x, y, width: 84, height: 98, rx: 8 }),
    path(`${kind}-sign`, sign),
    textLine(`${kind}-word`, word, [x + 28, y + 16], { size: 14, anchor: 'start' }),
    path(
      'wall',
      lineData([
        [x + 4, hole + 13],
        [middle - 17, hole + 13],
        [middle - 17, hole],
      ]),
    ),
    path(
      'wall',
      lineData([
        [middle + 17, hole],
        [middle + 17, hole + 13],
        [x + 80, hole + 13],
      ]),
    ),
    path(
      'pad',
      lineData([
        [middle - 20, cup - tilt],
        [middle + 20, cup + tilt],
      ]),
    ),
    path(
      'stem',
      lineData([
        [middle, cup - 3],
        [middle - 14, cup - 11 - tilt],
        [x + 5, cup - 11 - tilt],
      ]),
    ),
    path('move', arrow),
    textLine('small', sight.words, [middle, y + 34], { size: 12 }),
  ].join('');
}

function arrowEnds(direction: 'up' | 'down', [x, y]: Point): [Point, Point] {
  return direction === 'up'
    ? [
        [x, y + 14],
        [x, y - 8],
      ]
    : [
        [x, y - 16],
        [x, y + 6],
      ];
}
