import { type CauseEffect, type Machine, ventsAbout, ventsOfLink } from './machine.ts';
import type { Fault, MechanismFile, Severity } from './schema.ts';
import { LOST_PAD, SHUT, STRENGTH } from './severity.ts';

/** What is wrong at the moment, by place, in strengths (0 = nothing). */
export type FaultState = {
  /** Per link: how much too little, how much too much it carries. */
  readonly slack: Float64Array;
  readonly tight: Float64Array;
  /** Per vent: leak of its pad or rim whenever it is closed. */
  readonly leak: Float64Array;
  /** Per vent: shortfall of its opening; SHUT and more keeps it closed. */
  readonly late: Float64Array;
  /** Per vent: its own spring no longer pushes; the strength says how far it wanders. */
  readonly springOff: Float64Array;
  readonly heldOpen: Float64Array;
  readonly blocked: Float64Array;
  readonly padLost: Float64Array;
  /** Per driver (keys only): its spring, or a lock left on, does not let it come back. */
  readonly keySpringOff: Float64Array;
  readonly jointLeak: Float64Array;
  /** Per bore stretch and per cause: a degree, 0 none to 3 severe, or for causes the number of the severity, 1 to 3. */
  readonly boreDegree: Float64Array;
  readonly causeSize: Float64Array;
};

/** Where one fault is entered in the state, and with what value for each severity. */
export type FaultEntry = {
  readonly table: Float64Array;
  readonly index: number;
  readonly values: Readonly<Record<Severity, number>>;
  /** Whether touches and keys come to stand otherwise, and the vents that can. */
  readonly movesDrivers: boolean;
  readonly vents: Int16Array;
  /** Columns that end above this vent are out of its reach; -1 when it reaches every column. */
  readonly from: number;
};

export function emptyFaultState(machine: Machine, mechanism: MechanismFile): FaultState {
  const perLink = () => new Float64Array(mechanism.links.length);
  const perVent = () => new Float64Array(machine.ventCount);
  return {
    slack: perLink(),
    tight: perLink(),
    leak: perVent(),
    late: perVent(),
    springOff: perVent(),
    heldOpen: perVent(),
    blocked: perVent(),
    padLost: perVent(),
    keySpringOff: new Float64Array(machine.driverCount),
    jointLeak: new Float64Array(mechanism.joints.length),
    boreDegree: new Float64Array(mechanism.bores.length),
    causeSize: new Float64Array(mechanism.causes.length),
  };
}

const constant = (value: number) => ({ slight: value, moderate: value, gross: value });
/** A pad that sticks a little opens late; one that sticks more stays shut. */
const STICKING = { slight: STRENGTH.slight, moderate: SHUT, gross: SHUT };
/** Degrees by severity of a thing in the bore, and of water, which gurgles but does not silence. */
export const OBJECT = { slight: 2, moderate: 3, gross: 3 };
export const WATER = { slight: 1, moderate: 2, gross: 2 };
/** Water in a hole lets the air by with difficulty, and never shuts it. */
const WATER_IN_HOLE = { slight: STRENGTH.slight, moderate: STRENGTH.moderate, gross: STRENGTH.moderate };
export const SIZE = { slight: 1, moderate: 2, gross: 3 };

/** Where and how a fault is entered in the state, and what it can move. */
export function describeEntry(
  fault: Fault,
  state: FaultState,
  machine: Machine,
  mechanism: MechanismFile,
): FaultEntry {
  const location = locateFault(fault, state, machine, mechanism);
  const link = machine.linkIndex.get(fault.place);
  const driver = machine.driverIndex.get(fault.place);
  const vent = machine.ventIndex.get(fault.place);
  let vents: number[] = vent === undefined ? [] : [vent];
  if (link !== undefined) vents = ventsOfLink(machine, link);
  if (driver !== undefined) vents = ventsAbout(machine, driver);
  const isInEveryColumn = vents.length === 0 || vents.some((index) => machine.isRegisterVent[index] === 1);
  const bore = mechanism.bores.find(({ id }) => id === fault.place);
  const reachOfBore = bore === undefined ? -1 : machine.ventIndex.get(bore.after!)! + 1;
  return {
    ...location,
    movesDrivers: link !== undefined || driver !== undefined,
    vents: Int16Array.from(vents),
    from: isInEveryColumn ? reachOfBore : Math.min(...vents),
  };
}

type Location = Pick<FaultEntry, 'table' | 'index' | 'values'>;

function locateFault(fault: Fault, state: FaultState, machine: Machine, mechanism: MechanismFile): Location {
  const link = machine.linkIndex.get(fault.place) ?? -1;
  const vent = machine.ventIndex.get(fault.place) ?? -1;
  const position = (parts: readonly { readonly id: string }[]) =>
    parts.findIndex((part) => part.id === fault.place);
  switch (fault.kind) {
    case 'slack':
      return { table: state.slack, index: link, values: STRENGTH };
    case 'tight':
      return { table: state.tight, index: link, values: STRENGTH };
    case 'leaks':
    case 'uncovered':
    case 'bent':
      return { table: state.leak, index: vent, values: STRENGTH };
    case 'sticks':
      return { table: state.late, index: vent, values: STICKING };
    case 'opens-too-little':
      return { table: state.late, index: vent, values: STRENGTH };
    case 'spring-off':
      return vent >= 0
        ? { table: state.springOff, index: vent, values: STRENGTH }
        : { table: state.keySpringOff, index: machine.driverIndex.get(fault.place)!, values: STRENGTH };
    case 'held-open':
      return { table: state.heldOpen, index: vent, values: STRENGTH };
    case 'blocked':
      return { table: state.blocked, index: vent, values: constant(1) };
    case 'pad-lost':
      return { table: state.padLost, index: vent, values: constant(LOST_PAD) };
    case 'left-on':
      return {
        table: state.keySpringOff,
        index: machine.driverIndex.get(fault.place)!,
        values: constant(SHUT),
      };
    case 'loose':
      return { table: state.jointLeak, index: position(mechanism.joints), values: STRENGTH };
    case 'object':
      return { table: state.boreDegree, index: position(mechanism.bores), values: OBJECT };
    case 'water':
      if (vent >= 0) return { table: state.late, index: vent, values: WATER_IN_HOLE };
      return { table: state.boreDegree, index: position(mechanism.bores), values: WATER };
    case 'set-up':
    case 'player':
      return { table: state.causeSize, index: position(mechanism.causes), values: SIZE };
    default:
      throw new RangeError(`"${fault.id}" can happen to a tube with valves only`);
  }
}

/**
 * How much a cause troubles a written note, 0 none to 3 severe: as the data say when it is moderate, one step less
 * when slight, one step more when gross.
 * @param size 1 slight, 2 moderate, 3 gross.
 */
export function causeDegree(
  effects: readonly CauseEffect[],
  note: number,
  size: number,
): { degree: number; octaveUp: boolean } {
  const effect = effects.find(({ from, to }) => note >= from && note <= to);
  if (effect === undefined) return { degree: 0, octaveUp: false };
  const degree = Math.min(3, Math.max(0, effect.degree + size - 2));
  return { degree, octaveUp: effect.octaveUp && degree >= 2 };
}
