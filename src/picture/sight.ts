import type { Instrument } from '../mechanism/index.ts';
import { expectMovement, type Movement } from './movement.ts';
import type { SideView } from './side-view.ts';

/**
 * What there is to see or feel at a cup. `moves`: what the touches do to it; `rises`: it comes up by itself when it is
 * let go; `lands`: it comes down together with another; `paper`, `light`: whether its pad seals; `rest`: how it looks
 * while nothing moves; `push`: how it feels under a fingertip; `press`: somebody else presses it shut.
 */
export type Sight = 'moves' | 'rises' | 'lands' | 'paper' | 'light' | 'rest' | 'push' | 'press';

/** A sight in words and as views from the side: what is right and what is a fault, or one view where neither is. */
export type SightDetails = {
  /** What to do at the cup, as a line above the picture. */
  readonly head: string;
  /** The word at the ring around the cup. */
  readonly label: string;
  /** Whether "press nothing" has to be said where no touch is held. */
  readonly isAtRest: boolean;
  /** What must happen, and what is a fault, as the second half of a sentence. */
  readonly must: string;
  readonly views: readonly SideView[];
};

/** What the details of a sight depend on; `name` and `beside` are the names of the cups. */
type Scene = {
  readonly instrument: Instrument;
  readonly hold: readonly string[];
  readonly tap?: string | undefined;
  readonly watch: string;
  readonly name: string;
  readonly beside: string | null;
};

const DOWN = { lift: 0 } as const;
const OPEN = { lift: 16 } as const;
const AJAR = { lift: 4, tilt: 4 } as const;

const MOVEMENTS: Readonly<Record<Movement, { must: string; fault: string; views: readonly SideView[] }>> = {
  'stays-shut': {
    must: 'must stay shut and not stir',
    fault: 'lifts',
    views: [
      { sign: 'good', words: 'stays shut', cups: [DOWN] },
      { sign: 'fault', words: 'lifts', cups: [{ lift: 12, tilt: 4, arrow: 'up' }] },
    ],
  },
  'stays-open': {
    must: 'must stay open and not stir',
    fault: 'drops',
    views: [
      { sign: 'good', words: 'stays open', cups: [OPEN] },
      { sign: 'fault', words: 'drops', cups: [{ lift: 7, tilt: 2, arrow: 'down' }] },
    ],
  },
  closes: {
    must: 'must go right down and shut',
    fault: 'stops short',
    views: [
      { sign: 'good', words: 'goes down', cups: [{ lift: 0, arrow: 'down' }] },
      { sign: 'fault', words: 'stops short', cups: [{ lift: 6, tilt: 2, arrow: 'down' }] },
    ],
  },
  opens: {
    must: 'must lift and stand open',
    fault: 'hardly moves',
    views: [
      { sign: 'good', words: 'opens', cups: [{ lift: 16, arrow: 'up' }] },
      { sign: 'fault', words: 'hardly moves', cups: [{ lift: 3, tilt: 1 }] },
    ],
  },
};

/**
 * A sight at one cup of an instrument, in words and views. What a healthy cup does is computed from the mechanism.
 * Throws RangeError when the instrument has no such vent.
 */
export function describeSight(sight: Sight, scene: Scene): SightDetails {
  const { name, beside } = scene;
  switch (sight) {
    case 'moves': {
      const { must, fault, views } = MOVEMENTS[expectMovement(scene.instrument, scene)];
      return {
        head: `watch the ${name}`,
        label: 'watch',
        isAtRest: true,
        must: `Watch the ${name}: it ${must}; if it ${fault}, that is the fault.`,
        views,
      };
    }
    case 'rises':
      return {
        head: `press the ${name}, let go, watch`,
        label: 'watch',
        isAtRest: false,
        must: `Press the ${name} down, let go and watch it: it must come up at once; if it stays down, that is the fault.`,
        views: [
          { sign: 'good', words: 'comes up', cups: [{ lift: 16, arrow: 'up' }] },
          { sign: 'fault', words: 'stays down', cups: [{ lift: 3, tilt: 1 }] },
        ],
      };
    case 'lands': {
      const both = beside === null ? name : `${name} and the ${beside}`;
      return {
        head: `watch the ${both}`,
        label: 'watch',
        isAtRest: true,
        must: `Watch the ${both}: they must touch down together; if one lands first and the other stays open, that is the fault.`,
        views: [
          {
            sign: 'good',
            words: 'both at once',
            cups: [
              { lift: 0, arrow: 'down' },
              { lift: 0, arrow: 'down' },
            ],
          },
          { sign: 'fault', words: 'one is first', cups: [DOWN, { lift: 9, tilt: 2 }] },
        ],
      };
    }
    case 'paper':
      return {
        head: `paper under the ${name}`,
        label: 'paper',
        isAtRest: true,
        must: `A strip of paper lies between the pad of the ${name} and the rim of its hole. Draw it out gently: it must grip; if it slips out, the pad does not seal.`,
        views: [
          { sign: 'good', words: 'grips', cups: [{ lift: 2 }], with: 'paper' },
          { sign: 'fault', words: 'slips out', cups: [AJAR], with: 'paper' },
        ],
      };
    case 'light':
      return {
        head: `lamp inside, look at the ${name}`,
        label: 'look',
        isAtRest: true,
        must: `A lamp is in the tube. Look all round the ${name}: it must be dark; if light shines out under the pad, the pad does not seal.`,
        views: [
          { sign: 'good', words: 'dark', cups: [DOWN], with: 'light' },
          { sign: 'fault', words: 'light shows', cups: [AJAR], with: 'light' },
        ],
      };
    case 'rest':
      return {
        head: `look at the ${name}`,
        label: 'look',
        isAtRest: true,
        must: `Look at the ${name} from the side, while nothing moves.`,
        views: [{ sign: null, words: 'look; nothing moves', cups: [restOf(scene)], with: 'eye' }],
      };
    case 'push':
      return {
        head: `move the ${name} with a fingertip`,
        label: 'move',
        isAtRest: false,
        must: `Move the ${name} a little with a fingertip, from where it rests, and let it go back.`,
        views: [
          { sign: null, words: 'a little, and back', cups: [{ lift: 8, arrow: 'both' }], with: 'finger' },
        ],
      };
    case 'press':
      return {
        head: `somebody presses the ${name} shut`,
        label: 'press',
        isAtRest: false,
        must: `Meanwhile somebody else presses the ${name} down on its hole.`,
        views: [{ sign: null, words: 'press it shut', cups: [{ lift: 0, arrow: 'down' }], with: 'finger' }],
      };
  }
}

function restOf({ instrument, hold, watch }: Scene): SideView['cups'][number] {
  const movement = expectMovement(instrument, { hold, watch });
  return movement === 'opens' || movement === 'stays-open' ? OPEN : DOWN;
}
