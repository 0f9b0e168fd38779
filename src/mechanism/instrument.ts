import { overblowOf } from './distance-law.ts';
import { describeEntry, emptyFaultState, type FaultEntry, type FaultState } from './fault-state.ts';
import { faultsOf } from './faults.ts';
import type { FingeringPlan } from './fingering-plan.ts';
import { buildMachine, type Machine } from './machine.ts';
import { MechanismError } from './mechanism-error.ts';
import { midi } from './notes.ts';
import { findBrokenReferences } from './references.ts';
import type {
  Bore,
  Cause,
  Clef,
  Fault,
  Fingering,
  FingeringEntry,
  FingeringsFile,
  Joint,
  Key,
  Link,
  MechanismFile,
  Touch,
  Vent,
} from './schema.ts';
import { emptySettled, type Settled } from './settle.ts';
import type { SharedPart } from './shared-parts.ts';
import { buildTube, planOnTube, registerOfPartial, stepOfPartials, type Tube } from './tube.ts';
import { buildTubeWorkings, type TubeWorkings } from './tube-effect.ts';

export type PartSort =
  | 'vent'
  | 'touch'
  | 'key'
  | 'link'
  | 'joint'
  | 'bore'
  | 'cause'
  | 'valve'
  | 'slide'
  | 'water-key'
  | 'pair';

/** Any part of an instrument, by its sort, its id and its plain name. */
export type Part = { readonly sort: PartSort; readonly id: string; readonly name: string };

/** One way in which a finger reaches a part: the touch, what becomes of the part, and the keys and links between. */
export type Reach = {
  readonly touch: string;
  readonly action: 'opens' | 'closes' | 'works';
  readonly through: readonly string[];
};

/** An instrument built from its data: indexed, not to be changed. */
export type Instrument = {
  readonly id: string;
  readonly name: string;
  readonly family: string;
  /** What tells it from its sisters; null where nothing is said. */
  readonly lookFor: string | null;
  readonly clef: Clef;
  /** Semitones from the note of some fingers to the one that they give when they overblow: an octave or a twelfth. */
  readonly overblow: number;
  readonly transposition: { readonly semitones: number; readonly sounds: string };
  readonly range: { readonly lowest: string; readonly highest: string };
  /** Where name, transposition and range come from. */
  readonly source: readonly string[];
  /** In the order in which the air meets them. */
  readonly vents: readonly Vent[];
  readonly touches: readonly Touch[];
  readonly keys: readonly Key[];
  readonly links: readonly Link[];
  readonly joints: readonly Joint[];
  readonly bores: readonly Bore[];
  readonly causes: readonly Cause[];
  /** Valves, slides and water keys of a brass instrument; null for every other one. */
  readonly tube: Tube | null;
  readonly fingerings: readonly Fingering[];
  readonly playTest: readonly Fingering[];
  /** Where the order of the play test comes from. */
  readonly playTestSource: readonly string[];
  readonly faults: readonly Fault[];
  /** Whether there is a part with this id. */
  hasPart(id: string): boolean;
  /** @throws RangeError for an id that this instrument does not have; so do all the look-ups below. */
  part(id: string): Part;
  vent(id: string): Vent;
  link(id: string): Link;
  fingering(id: string): Fingering;
  fault(id: string): Fault;
  /** What drives a link and what it drives; for a switch, the parts whose motions it steers. */
  linkEnds(id: string): { readonly drivers: readonly Part[]; readonly targets: readonly Part[] };
  /** The touches that reach a cup, key or link, and how. */
  touchesOf(partId: string): readonly Reach[];
  /** Index form and work space of the predictions; of no use outside this folder. */
  readonly workings: Workings;
  /** The same for a tube; null where there is none. */
  readonly tubeWorkings: TubeWorkings | null;
};

export type Workings = {
  readonly machine: Machine;
  readonly state: FaultState;
  readonly settled: Settled;
  readonly touchesDown: Uint8Array;
  /** Brackets of the distance law for resonances 1 and 2, less 1, as last computed. */
  readonly weights: Float64Array;
  readonly entries: ReadonlyMap<string, FaultEntry>;
  /** The faults that are entered in the state at the moment. */
  readonly active: FaultEntry[];
  readonly plans: WeakMap<Fingering, FingeringPlan>;
  readonly uses: WeakMap<Fingering, readonly SharedPart[]>;
};

/**
 * Builds an instrument from its parsed data files.
 * @throws MechanismError that lists every broken reference and what to do about it.
 */
export function buildInstrument(mechanism: MechanismFile, fingerings: FingeringsFile): Instrument {
  const problems = findBrokenReferences(mechanism, fingerings);
  if (problems.length > 0) throw new MechanismError(mechanism.instrument.id, problems);
  const { instrument, vents, touches, keys, links, joints, bores, causes } = mechanism;
  const tube = mechanism.tube === undefined ? null : buildTube(mechanism.tube, mechanism);
  const parts = new Map<string, Part>(
    (
      [
        ['vent', vents],
        ['touch', touches],
        ['key', keys],
        ['link', links],
        ['joint', joints],
        ['bore', bores],
        ['cause', causes],
        ['valve', tube?.valves ?? []],
        ['slide', tube?.slides ?? []],
        ['water-key', tube?.waterKeys ?? []],
        ['pair', tube?.pairs ?? []],
      ] as const
    ).flatMap(([sort, group]) => group.map(({ id, name }) => [id, { sort, id, name }] as const)),
  );
  const faults = faultsOf(mechanism);
  const part = lookUp(parts, 'part');
  const known = fingerings.fingerings.map((entry) => withRegister(entry, tube));
  const fingering = lookUp(new Map(known.map((item) => [item.id, item])), 'fingering');
  return {
    id: instrument.id,
    name: instrument.name,
    family: instrument.family,
    lookFor: instrument.lookFor ?? null,
    clef: instrument.clef,
    overblow: overblowOf(instrument.acoustics),
    transposition: instrument.transposition,
    range: instrument.range,
    source: instrument.source,
    vents,
    touches,
    keys,
    links,
    joints,
    bores,
    causes,
    tube,
    fingerings: known,
    playTest: fingerings.playTest.order.map(fingering),
    playTestSource: fingerings.playTest.source,
    faults,
    hasPart: (id) => parts.has(id),
    part,
    vent: lookUp(new Map(vents.map((item) => [item.id, item])), 'cup'),
    link: lookUp(new Map(links.map((item) => [item.id, item])), 'link'),
    fingering,
    fault: lookUp(new Map(faults.map((item) => [item.id, item])), 'fault'),
    linkEnds: (id) => findLinkEnds(mechanism, id, part),
    touchesOf: (id) => findReaches(mechanism, part(id).id),
    workings: buildWorkings(tube === null ? mechanism : withoutTube(mechanism), tube === null ? faults : []),
    tubeWorkings: tube === null ? null : buildTubeWorkings(tube, mechanism),
  };
}

/** A fingering with its register: that of the file, or on a tube that of its partial. */
function withRegister(entry: FingeringEntry, tube: Tube | null): Fingering {
  const partial = tube === null ? null : planOnTube(tube, entry).partial;
  return { ...entry, register: entry.register ?? registerOfPartial(partial ?? 1) };
}

/** What is left for the machine of cups and links: touches that move nothing. */
function withoutTube(mechanism: MechanismFile): MechanismFile {
  const touches = mechanism.touches.map((touch) => ({ ...touch, moves: [] }));
  return { ...mechanism, touches, joints: [], bores: [], causes: [] };
}

function buildWorkings(mechanism: MechanismFile, faults: readonly Fault[]): Workings {
  const machine = buildMachine(mechanism);
  const state = emptyFaultState(machine, mechanism);
  return {
    machine,
    state,
    settled: emptySettled(machine),
    touchesDown: new Uint8Array(machine.touchCount),
    weights: new Float64Array(2),
    active: [],
    plans: new WeakMap(),
    uses: new WeakMap(),
    entries: new Map(faults.map((fault) => [fault.id, describeEntry(fault, state, machine, mechanism)])),
  };
}

function lookUp<Item>(items: ReadonlyMap<string, Item>, sort: string): (id: string) => Item {
  return (id) => {
    const item = items.get(id);
    if (item === undefined) throw new RangeError(`This instrument has no ${sort} "${id}"`);
    return item;
  };
}

function findLinkEnds(mechanism: MechanismFile, id: string, part: (id: string) => Part) {
  const link = mechanism.links.find((item) => item.id === id);
  if (link === undefined) throw new RangeError(`This instrument has no link "${id}"`);
  const moves = [...mechanism.touches, ...mechanism.keys].flatMap((driver) =>
    driver.moves.map((motion) => ({ driver: driver.id, motion })),
  );
  const carried = moves.filter(
    ({ motion }) => (link.action === 'switches' ? motion.when?.link : motion.link) === id,
  );
  const drivers = link.drivenBy ?? carried.map(({ driver }) => driver);
  return {
    drivers: [...new Set(drivers)].map(part),
    targets: [...new Set(carried.map(({ motion }) => motion.part))].map(part),
  };
}

function findReaches(mechanism: MechanismFile, id: string): Reach[] {
  const keys = new Map(mechanism.keys.map((key) => [key.id, key]));
  const follow = (touch: Touch, from: Touch | Key, through: readonly string[]): Reach[] => {
    const switched = mechanism.links.filter((link) => link.id === id && link.drivenBy?.includes(from.id));
    const here = switched.map((): Reach => ({ touch: touch.id, action: 'works', through }));
    const onward = from.moves.flatMap((motion): Reach[] => {
      const passed = motion.link === undefined ? through : [...through, motion.link];
      if (motion.link === id) return [{ touch: touch.id, action: 'works', through }];
      if (motion.part === id) {
        const opens = motion.action === 'opens' || motion.action === 'raises';
        return [
          { touch: touch.id, action: keys.has(id) ? 'works' : opens ? 'opens' : 'closes', through: passed },
        ];
      }
      const key = keys.get(motion.part);
      return key === undefined ? [] : follow(touch, key, [...passed, key.id]);
    });
    return [...here, ...onward];
  };
  return mechanism.touches.flatMap((touch) =>
    touch.id === id ? [{ touch: id, action: 'works' as const, through: [] }] : follow(touch, touch, []),
  );
}

type Fingers = Pick<FingeringEntry, 'note' | 'touches' | 'position'>;

/**
 * The note into which a fingering breaks when it fails upward, as MIDI number: the one that the same fingers give an octave or
 * a twelfth higher, on brass the neighbouring partial of the same tube.
 * @throws RangeError for a touch that the instrument has not.
 */
export function nextRegister({ overblow, tube }: Instrument, fingers: Fingers): number {
  return midi(fingers.note) + (tube === null ? overblow : stepOfPartials(tube, fingers, 1));
}

/** The note into which it drops when it fails downward; on brass the partial below. Errors as above. */
export function lowerRegister({ overblow, tube }: Instrument, fingers: Fingers): number {
  return midi(fingers.note) + (tube === null ? -overblow : stepOfPartials(tube, fingers, -1));
}
