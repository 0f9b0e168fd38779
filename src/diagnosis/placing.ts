/** Which touches to hold so that a part closes, opens or is driven: found by trying them on the healthy mechanism. */
import { type Instrument, type Reach, ventStates } from '../mechanism/index.ts';

const linksOf = (reach: Reach) => reach.through.filter((part) => part.startsWith('link.')).length;
const byLinks = (one: Reach, other: Reach) => linksOf(one) - linksOf(other);

/** Whether a vent stands open on a healthy instrument with these touches down. */
export function isOpenWith(instrument: Instrument, vent: string, touches: readonly string[]): boolean {
  const index = instrument.vents.findIndex(({ id }) => id === vent);
  return ventStates(instrument, touches, [])[index]?.open === true;
}

/** Touches that shut a vent with the fewest links between: none for one that rests closed. */
export function closingTouches(instrument: Instrument, vent: string): readonly string[] {
  return touchesFor(instrument, vent, false);
}

/** Touches that open a vent with the fewest links between: none for one that rests open. */
export function openingTouches(instrument: Instrument, vent: string): readonly string[] {
  return touchesFor(instrument, vent, true);
}

function touchesFor(instrument: Instrument, vent: string, isOpen: boolean): readonly string[] {
  const isDone = (touches: readonly string[]) => isOpenWith(instrument, vent, touches) === isOpen;
  if (isDone([])) return [];
  const action = isOpen ? 'opens' : 'closes';
  const reaches = instrument
    .touchesOf(vent)
    .filter((reach) => reach.action === action)
    .sort(byLinks);
  for (const { touch } of reaches) if (isDone([touch])) return [touch];
  // A switch may have to be thrown as well.
  for (const { touch } of reaches) {
    const other = instrument.touches.find(({ id }) => id !== touch && isDone([touch, id]));
    if (other !== undefined) return [touch, other.id];
  }
  return [];
}

/** A vent that a part closes or carries without any link between, or the part itself when it is a vent. */
export function ownVent(instrument: Instrument, part: string): string | null {
  if (instrument.vents.some(({ id }) => id === part)) return part;
  const driver = [...instrument.touches, ...instrument.keys].find(({ id }) => id === part);
  for (const motion of driver?.moves ?? []) {
    if (motion.link !== undefined || motion.when !== undefined) continue;
    if (motion.action !== 'closes' && motion.action !== 'holds' && motion.action !== 'presses') continue;
    const vent = ownVent(instrument, motion.part);
    if (vent !== null) return vent;
  }
  return null;
}

/** How a link is tried: what to hold so that it acts, and the cups to watch. */
export type LinkTrial = {
  readonly driver: string;
  readonly target: string;
  /** Touches that work the driver. */
  readonly drive: readonly string[];
  /** The padded cup that the driver closes itself, and the one that the link brings along; null where there is none. */
  readonly own: string | null;
  readonly targetVent: string | null;
  /** Touches that would open the driven cup, for one that rests closed; empty otherwise. */
  readonly free: readonly string[];
};

/** The padded cup that a part closes without any link between: a fingertip on a hole does not land as a cup does. */
function ownCup(instrument: Instrument, part: string): string | null {
  const vent = ownVent(instrument, part);
  return vent !== null && instrument.vent(vent).cover === 'finger' ? null : vent;
}

/** How to try a link, for every link of an instrument. @throws RangeError for an unknown link. */
export function trialOf(instrument: Instrument, link: string): LinkTrial {
  const { drivers, targets } = instrument.linkEnds(link);
  const driver = drivers[0]!.id;
  const target = targets[0]!.id;
  const targetVent = ownVent(instrument, target);
  const restsClosed = targetVent !== null && instrument.vent(targetVent).rest === 'closed';
  return {
    driver,
    target,
    drive: drivingTouches(instrument, driver),
    own: ownCup(instrument, driver),
    targetVent,
    free: restsClosed ? openingTouches(instrument, targetVent) : [],
  };
}

/** A touch drives itself. A key is driven by what moves it rigidly, or else by everything that moves it at once. */
function drivingTouches(instrument: Instrument, driver: string): readonly string[] {
  if (instrument.touches.some(({ id }) => id === driver)) return [driver];
  const reaches = instrument.touchesOf(driver);
  const rigid = reaches.filter((reach) => linksOf(reach) === 0);
  return (rigid.length > 0 ? rigid : reaches).map(({ touch }) => touch);
}
