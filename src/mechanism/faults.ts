import type { Fault, FaultKind, MechanismFile, PlacedFault, Severity } from './schema.ts';
import { SEVERITIES } from './severity.ts';
import { faultsOfTube } from './tube-faults.ts';

/** The id of a fault: `<kind>@<place>`. */
export function faultId(kind: FaultKind, place: string): string {
  return `${kind}@${place}`;
}

/**
 * Every fault that can physically happen to these parts, by general rule: a link can be slack or tight; a padded cup
 * can leak, stick, lose its pad, be bent, lose its spring or open too little; a cup that rests closed can be held open;
 * a hole that the finger covers can be left uncovered; a register vent can be blocked; water can stand in a hole where it
 * gathers; a key with a spring of its own can lose it; a lock can be left on; a joint can be loose; things and, where it
 * gathers, water can lie in the bore; set-up and player causes are what the data list.
 */
export function faultsOf(mechanism: MechanismFile): Fault[] {
  const at = (place: string, ...kinds: readonly FaultKind[]): Fault[] =>
    kinds.map((kind) => ({ id: faultId(kind, place), kind, place }));
  const causes = mechanism.causes.flatMap((cause) => at(cause.id, cause.group));
  if (mechanism.tube !== undefined) {
    const places = faultsOfTube(mechanism.tube, mechanism);
    return [...places.flatMap(({ place, kinds }) => at(place, ...kinds)), ...causes];
  }
  return [
    ...mechanism.links.flatMap((link) => at(link.id, 'slack', 'tight')),
    ...mechanism.vents.flatMap((vent) => [
      ...(vent.cover === 'finger'
        ? at(vent.id, 'uncovered')
        : at(vent.id, 'leaks', 'sticks', 'spring-off', 'bent', 'pad-lost', 'opens-too-little')),
      ...(vent.rest === 'closed' && vent.cover !== 'finger' ? at(vent.id, 'held-open') : []),
      ...(vent.registerVent === undefined ? [] : at(vent.id, 'blocked')),
      ...(vent.gathersWater === true ? at(vent.id, 'water') : []),
    ]),
    ...mechanism.keys.flatMap((key) => [
      ...(key.hasSpring ? at(key.id, 'spring-off') : []),
      ...(key.stays ? at(key.id, 'left-on') : []),
    ]),
    ...mechanism.joints.flatMap((joint) => at(joint.id, 'loose')),
    ...mechanism.bores.flatMap((bore) =>
      at(bore.id, 'object', ...(bore.gathersWater ? (['water'] as const) : [])),
    ),
    ...causes,
  ];
}

/** Kinds that are there or not: a pad is lost, a vent is blocked, a lock is on, a valve does not move at all. */
const ALL_OR_NOTHING: readonly FaultKind[] = [
  'pad-lost',
  'blocked',
  'left-on',
  'seized',
  'spring-broken',
  'linkage-off',
  'swapped',
  'stuck',
];

/** The severities between which a fault makes a difference. */
export function severitiesOf(fault: Fault): readonly Severity[] {
  return ALL_OR_NOTHING.includes(fault.kind) ? ['gross'] : SEVERITIES;
}

/** Puts a fault and its severity together. */
export function placeFault(fault: Fault, severity: Severity): PlacedFault {
  return { fault, severity };
}

const TITLES: Readonly<Record<Exclude<FaultKind, 'slack' | 'tight'>, (name: string) => string>> = {
  leaks: (name) => `The pad of the ${name} leaks`,
  uncovered: (name) => `The finger does not cover the ${name}`,
  sticks: (name) => `The ${name} sticks shut`,
  'spring-off': (name) => `The spring of the ${name} is off its hook, weak or broken`,
  'held-open': (name) => `Something holds the ${name} open`,
  bent: (name) => `The ${name} is bent and cannot close`,
  'pad-lost': (name) => `The pad has fallen out of the ${name}`,
  'opens-too-little': (name) => `The ${name} does not open far enough`,
  blocked: (name) => `The ${name} is blocked`,
  'left-on': (name) => `The ${name} has been left on`,
  loose: (name) => `The ${name} is loose or leaks`,
  object: (name) => `Something is lodged in the ${name}`,
  water: (name) => `Water is standing in the ${name}`,
  sluggish: (name) => `The ${name} moves slowly or hangs`,
  seized: (name) => `The ${name} does not move`,
  'spring-broken': (name) => `The spring of the ${name} is broken, missing or weak`,
  'linkage-off': (name) => `The string or linkage of the ${name} is off`,
  'up-stop': (name) => `The ${name} stops in the wrong place when it is up`,
  'down-stop': (name) => `The ${name} stops in the wrong place when it is down`,
  turned: (name) => `The ${name} is turned in its casing`,
  swapped: (name) => `The ${name} are in each other’s casings`,
  stuck: (name) => `The ${name} is stuck`,
  dented: (name) => `The ${name} is dented or bent`,
  holed: (name) => `The ${name} has a hole or an open seam`,
  drips: (name) => `The ${name} does not seal`,
  'hangs-open': (name) => `The ${name} hangs open`,
  'set-up': (name) => `Set-up: the ${name}`,
  player: (name) => `Playing: the ${name}`,
};

/** The plain title of a fault of this kind at a place of this name; links bring their own. */
export function titleOf(kind: Exclude<FaultKind, 'slack' | 'tight'>, name: string): string {
  return TITLES[kind](name);
}
