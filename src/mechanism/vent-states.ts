import type { Instrument, Workings } from './instrument.ts';
import type { PlacedFault } from './schema.ts';
import { settle } from './settle.ts';

/** How one vent stands: open or not; strength of its leak when it is not (0 = tight); how far its opening falls short, 0 to 1. */
export type VentState = { readonly open: boolean; readonly leak: number; readonly restricted: number };

/** Where the air column ends: the vents closed above the first open hole, that hole, and the register vents open. */
export type Column = {
  readonly closed: readonly string[];
  /** Null when every tone hole is closed and the bell itself gives the note. */
  readonly firstOpen: string | null;
  readonly registerVents: readonly string[];
};

/**
 * Enters faults in the work space and remembers them there; {@link clearFaults} must follow before anything else.
 * @throws RangeError for a fault that the instrument does not have; the work space is then clear.
 */
export function enterFaults(workings: Workings, faults: readonly PlacedFault[]): void {
  const { entries, active } = workings;
  for (const { fault, severity } of faults) {
    const entry = entries.get(fault.id);
    if (entry === undefined) {
      clearFaults(workings);
      throw new RangeError(`This instrument has no fault "${fault.id}"`);
    }
    active.push(entry);
    const value = entry.values[severity];
    if (value > entry.table[entry.index]!) entry.table[entry.index] = value;
  }
}

export function clearFaults({ active }: Workings): void {
  for (const { table, index } of active) table[index] = 0;
  active.length = 0;
}

/** Writes which touches are down into the work space. @throws RangeError for a touch that the instrument does not have. */
export function pressTouches(workings: Workings, touches: readonly string[]): void {
  workings.touchesDown.fill(0);
  for (const touch of touches) {
    const index = workings.machine.driverIndex.get(touch);
    if (index === undefined || index >= workings.machine.touchCount) {
      throw new RangeError(`This instrument has no touch "${touch}"`);
    }
    workings.touchesDown[index] = 1;
  }
}

/**
 * How every vent stands with these touches down and these faults, in the order in which the air meets them.
 * @throws RangeError for an unknown touch or fault.
 */
export function ventStates(
  instrument: Instrument,
  touches: readonly string[],
  faults: readonly PlacedFault[],
): VentState[] {
  const { workings } = instrument;
  pressTouches(workings, touches);
  enterFaults(workings, faults);
  settle(workings.machine, workings.touchesDown, workings.state, workings.settled);
  clearFaults(workings);
  const { open, leak, restricted } = workings.settled;
  return instrument.vents.map((_, index) => ({
    open: open[index] === 1,
    leak: leak[index]!,
    restricted: restricted[index]!,
  }));
}

/** Where the air column ends with these touches down on a healthy instrument. @throws RangeError for an unknown touch. */
export function columnOf(instrument: Instrument, touches: readonly string[]): Column {
  const states = ventStates(instrument, touches, []);
  const isOpen = (index: number) => states[index]?.open === true;
  const first = instrument.vents.findIndex((vent, index) => vent.note !== null && isOpen(index));
  const end = first === -1 ? instrument.vents.length : first;
  return {
    closed: instrument.vents.filter((_, index) => index < end && !isOpen(index)).map((vent) => vent.id),
    firstOpen: instrument.vents[first]?.id ?? null,
    registerVents: instrument.vents
      .filter((vent, index) => vent.registerVent !== undefined && isOpen(index))
      .map((vent) => vent.id),
  };
}
