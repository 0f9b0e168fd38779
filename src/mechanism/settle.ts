import type { FaultState } from './fault-state.ts';
import { type CompiledMotion, type Machine, NONE } from './machine.ts';
import { SHUT, STRENGTH } from './severity.ts';

/** Where the parts come to stand. Strengths are leak strengths; Infinity for "not worked" and "not closed". */
export type Settled = {
  /** Per driver: how far short of its full travel it stops; Infinity when it is not worked. */
  readonly short: Float64Array;
  /** Per worked driver: what its opening motions lack. */
  readonly lag: Float64Array;
  /** Per driver: how far a tight neighbour forces it to stop short. */
  readonly prop: Float64Array;
  /** Per key at rest: how far it is kept off its rest, and how far its closing motions are pressed down at rest. */
  readonly crack: Float64Array;
  readonly sag: Float64Array;
  /** Per vent. */
  readonly open: Uint8Array;
  readonly leak: Float64Array;
  readonly restricted: Float64Array;
};

export function emptySettled(machine: Machine): Settled {
  return {
    short: new Float64Array(machine.driverCount),
    lag: new Float64Array(machine.driverCount),
    prop: new Float64Array(machine.driverCount),
    crack: new Float64Array(machine.driverCount),
    sag: new Float64Array(machine.driverCount),
    open: new Uint8Array(machine.ventCount),
    leak: new Float64Array(machine.ventCount),
    restricted: new Float64Array(machine.ventCount),
  };
}

export function copySettled({ short, lag, prop, crack, sag, open, leak, restricted }: Settled): Settled {
  return {
    short: short.slice(),
    lag: lag.slice(),
    prop: prop.slice(),
    crack: crack.slice(),
    sag: sag.slice(),
    open: open.slice(),
    leak: leak.slice(),
    restricted: restricted.slice(),
  };
}

/**
 * Lets the whole mechanism come to rest with some touches down and some things wrong, and writes where every part
 * stands into `into`.
 *
 * Travel is counted in leak strengths. Down a chain a slack link adds to what its driver falls short by, a tight one
 * takes away. Up the chain a tight link makes its driver stop short, whatever else closes the driven part; and a part
 * that is stopped stops those that drive it, less the slack between them. A vent with several closers is as closed as
 * the best of them makes it. A tight link whose driver moves nothing else has nothing to keep off: it holds what it closes
 * a little down at rest. Openings are long and leaks are thin: being stopped short takes from an opening no more
 * than a slight fault would, only slack on its own way can spoil it.
 * @param touchesDown one entry a touch, 1 when pressed.
 */
export function settle(machine: Machine, touchesDown: Uint8Array, faults: FaultState, into: Settled): void {
  settleDrivers(machine, touchesDown, faults, into);
  for (let vent = 0; vent < machine.ventCount; vent += 1) settleVent(machine, vent, faults, into);
}

/** The first half of {@link settle}: touches and keys, without the vents. */
export function settleDrivers(
  machine: Machine,
  touchesDown: Uint8Array,
  faults: FaultState,
  into: Settled,
): void {
  workDrivers(machine, touchesDown, faults, into);
  propDrivers(machine, faults, into);
  shortenDrivers(machine, faults, into);
}

/** Which drivers are worked at all (short 0) and how far the others are kept off their rest. */
function workDrivers(
  machine: Machine,
  touchesDown: Uint8Array,
  faults: FaultState,
  { short, prop, crack, sag }: Settled,
): void {
  for (let driver = 0; driver < machine.driverCount; driver += 1) {
    prop[driver] = 0;
    crack[driver] = 0;
    sag[driver] = 0;
    if (driver < machine.touchCount) {
      short[driver] = touchesDown[driver] === 1 ? 0 : Infinity;
      continue;
    }
    const astray = faults.keySpringOff[driver]!;
    let worked = astray >= SHUT;
    let off = astray;
    for (const motion of machine.motionsToKey[driver]!) {
      if (short[motion.driver]! < Infinity && switchGap(machine, motion, faults, short) < Infinity)
        worked = true;
      off = Math.max(off, crackThrough(machine, motion, faults, crack));
      sag[driver] = Math.max(sag[driver]!, sagThrough(motion, faults, sag));
    }
    short[driver] = worked ? 0 : Infinity;
    crack[driver] = off;
  }
}

/** How far a motion keeps its target off its rest although nobody works the driver. */
function crackThrough(
  machine: Machine,
  motion: CompiledMotion,
  faults: FaultState,
  crack: Float64Array,
): number {
  const carried = crack[motion.driver]!;
  if (motion.link === NONE) return carried;
  const pushed = machine.linkOpens[motion.link] === 1 ? faults.tight[motion.link]! : 0;
  return Math.max(pushed, carried - faults.slack[motion.link]!);
}

/** How far a motion presses its target down although nobody works the driver. */
function sagThrough(motion: CompiledMotion, faults: FaultState, sag: Float64Array): number {
  if (motion.link === NONE) return sag[motion.driver]!;
  const pushed = motion.isAlone ? faults.tight[motion.link]! : 0;
  return Math.max(pushed, sag[motion.driver]! - faults.slack[motion.link]!);
}

/**
 * What the motion's switch takes from it: 0 when the switch stands right for it, Infinity when it does not, and in
 * between when a slightly slack switch goes over only part of the way.
 */
function switchGap(
  machine: Machine,
  motion: CompiledMotion,
  faults: FaultState,
  short: Float64Array,
): number {
  if (motion.switchLink === NONE) return 0;
  let thrown = false;
  for (const driver of machine.switchDrivers[motion.switchLink]!)
    if (short[driver]! < Infinity) thrown = true;
  if (!thrown) return motion.whenEngaged ? Infinity : 0;
  const slack = faults.slack[motion.switchLink]!;
  if (slack >= STRENGTH.moderate) return motion.whenEngaged ? Infinity : 0;
  return motion.whenEngaged ? slack : Infinity;
}

/** Tight links stop their drivers short, and stopped keys stop what drives them. From the last driver back. */
function propDrivers(machine: Machine, faults: FaultState, { short, prop }: Settled): void {
  for (let driver = machine.driverCount - 1; driver >= 0; driver -= 1) {
    if (short[driver] === Infinity) continue;
    let stop = 0;
    for (const motion of machine.motionsFrom[driver]!) {
      let push = motion.key === NONE ? 0 : prop[motion.key]!;
      if (motion.link !== NONE) {
        if (machine.linkOpens[motion.link] === 0) push += faults.tight[motion.link]!;
        push -= faults.slack[motion.link]!;
      }
      if (push > stop) stop = push;
    }
    for (const link of machine.switchesFrom[driver]!) stop = Math.max(stop, faults.tight[link]!);
    prop[driver] = stop;
  }
}

/** How far each worked driver falls short, given its stop and the best of what drives it. */
function shortenDrivers(machine: Machine, faults: FaultState, { short, lag, prop }: Settled): void {
  for (let driver = 0; driver < machine.driverCount; driver += 1) {
    if (short[driver] === Infinity) continue;
    if (driver < machine.touchCount || faults.keySpringOff[driver]! >= SHUT) {
      short[driver] = prop[driver]!;
      lag[driver] = Math.min(prop[driver]!, STRENGTH.slight);
      continue;
    }
    let bestShort = Infinity;
    let bestLag = Infinity;
    for (const motion of machine.motionsToKey[driver]!) {
      bestShort = Math.min(bestShort, reach(machine, motion, faults, short));
      bestLag = Math.min(bestLag, openReach(machine, motion, faults, { short, lag }));
    }
    short[driver] = Math.max(prop[driver]!, bestShort);
    lag[driver] = bestLag;
  }
}

/** How far short a motion leaves what it drives: 0 all the way, Infinity not at all. */
function reach(machine: Machine, motion: CompiledMotion, faults: FaultState, short: Float64Array): number {
  let gap = short[motion.driver]!;
  if (gap === Infinity) return Infinity;
  if (motion.switchLink !== NONE) gap += switchGap(machine, motion, faults, short);
  if (motion.link === NONE) return gap;
  gap += faults.slack[motion.link]!;
  if (machine.linkOpens[motion.link] === 0) gap -= faults.tight[motion.link]!;
  return Math.max(gap, 0);
}

/** How much an opening motion lacks: 0 nothing, Infinity when it is not worked. */
function openReach(
  machine: Machine,
  motion: CompiledMotion,
  faults: FaultState,
  { short, lag }: Pick<Settled, 'short' | 'lag'>,
): number {
  if (short[motion.driver] === Infinity) return Infinity;
  const slack = motion.link === NONE ? 0 : faults.slack[motion.link]!;
  return lag[motion.driver]! + switchGap(machine, motion, faults, short) + slack;
}

/** The second half of {@link settle}, for one vent. */
export function settleVent(machine: Machine, vent: number, faults: FaultState, settled: Settled): void {
  const { short, crack, sag } = settled;
  let opening = Infinity;
  let off = 0;
  for (const motion of machine.openersOf[vent]!) {
    opening = Math.min(opening, openReach(machine, motion, faults, settled));
    off = Math.max(
      off,
      crackThrough(machine, motion, faults, crack),
      halfSwitched(machine, motion, faults, short),
    );
  }
  let closing = Infinity;
  let pressed = 0;
  for (const motion of machine.closersOf[vent]!) {
    closing = Math.min(closing, reach(machine, motion, faults, short));
    pressed = Math.max(pressed, sagThrough(motion, faults, sag));
  }

  const restsOpen = machine.restsOpen[vent] === 1;
  const springOff = faults.springOff[vent]!;
  const meant = restsOpen || opening < Infinity;
  let shortfall = restsOpen ? Math.min(pressed, STRENGTH.moderate) : opening;
  if (meant) {
    shortfall = Math.max(shortfall, faults.late[vent]!, faults.blocked[vent]! * SHUT);
    // A cup that its own spring should lift stays down once that spring is more than a little weak.
    if (machine.springOpens[vent] === 1 && springOff > 0)
      shortfall = Math.max(shortfall, springOff > STRENGTH.slight ? SHUT : springOff);
  } else {
    off = Math.max(off, faults.heldOpen[vent]!, machine.springOpens[vent] === 1 ? 0 : springOff);
  }
  const hangsOpen = !meant && off >= SHUT;
  const isOpen = closing === Infinity && (hangsOpen || (meant && shortfall < SHUT));
  settled.open[vent] = isOpen ? 1 : 0;
  settled.restricted[vent] = isOpen && meant ? shortfall / SHUT : 0;
  let gap = 0;
  if (!isOpen) {
    if (!meant) gap = Math.min(off, closing);
    else if (closing < Infinity && shortfall < SHUT) gap = closing;
    gap += faults.leak[vent]! + faults.padLost[vent]!;
    if (faults.blocked[vent]! > 0) gap = 0;
  }
  settled.leak[vent] = gap;
}

/** A switch that goes over only part of the way leaves the vent it should have shut a little open. */
function halfSwitched(
  machine: Machine,
  motion: CompiledMotion,
  faults: FaultState,
  short: Float64Array,
): number {
  if (motion.switchLink === NONE || motion.whenEngaged || short[motion.driver]! === Infinity) return 0;
  const slack = faults.slack[motion.switchLink]!;
  if (slack === 0 || slack >= STRENGTH.moderate) return 0;
  for (const driver of machine.switchDrivers[motion.switchLink]!) if (short[driver]! < Infinity) return slack;
  return 0;
}
