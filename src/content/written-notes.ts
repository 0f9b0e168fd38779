/** The files of an instrument whose notes are written higher or lower, the fingers staying the same. */
import { midi, noteName } from '../mechanism/index.ts';
import type { InstrumentFiles } from './documents.ts';

type Mechanism = InstrumentFiles['mechanism.yaml'];

/** The files with every written note moved, and the ids of the fingerings with their notes. @param semitones above 0 higher. */
export function writeHigher(files: InstrumentFiles, semitones: number): InstrumentFiles {
  const move = (note: string) => noteName(midi(note) + semitones);
  const { fingerings, playTest } = files['fingerings.yaml'];
  const ids = new Map(fingerings.map(({ id, note }) => [id, id.replace(inId(note), inId(move(note)))]));
  return {
    ...files,
    'mechanism.yaml': moveMechanism(files['mechanism.yaml'], move),
    'fingerings.yaml': {
      fingerings: fingerings.map((one) => ({ ...one, id: ids.get(one.id)!, note: move(one.note) })),
      playTest: { ...playTest, order: playTest.order.map((id) => ids.get(id) ?? id) },
    },
  };
}

/** A note as it stands in the id of a fingering. */
const inId = (note: string) => note.replace('#', 's');

function moveMechanism(mechanism: Mechanism, move: (note: string) => string): Mechanism {
  const { instrument, tube, vents, joints, causes } = mechanism;
  const moveLoss = <T extends { note: string }>(points: readonly T[]) =>
    points.map((point) => ({ ...point, note: move(point.note) }));
  return {
    ...mechanism,
    instrument: {
      ...instrument,
      range: { lowest: move(instrument.range.lowest), highest: move(instrument.range.highest) },
    },
    ...(tube === undefined ? {} : { tube: { ...tube, fundamental: move(tube.fundamental) } }),
    vents: vents.map((vent) => ({
      ...vent,
      note: vent.note === null ? null : move(vent.note),
      ...(vent.registerVent === undefined
        ? {}
        : { registerVent: { ...vent.registerVent, loss: moveLoss(vent.registerVent.loss) } }),
    })),
    joints: joints.map((joint) =>
      joint.loss === undefined ? joint : { ...joint, loss: moveLoss(joint.loss) },
    ),
    causes: causes.map((cause) => ({
      ...cause,
      effects: cause.effects.map((effect) => ({ ...effect, from: move(effect.from), to: move(effect.to) })),
    })),
  };
}
