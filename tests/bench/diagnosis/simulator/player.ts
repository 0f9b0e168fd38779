/** The person who plays: how a disturbance of the air column comes to be told as an answer. */
import type { NoteFinding } from '../../../../src/diagnosis/index.ts';
import {
  type Fingering,
  type Instrument,
  midi,
  noteName,
  type PlacedFault,
  planOnTube,
  predictNote,
} from '../../../../src/mechanism/index.ts';
import { predictLosses } from '../../../../src/mechanism/note-effect.ts';
import type { Case } from './case.ts';
import { CANNOT_TELL, CANNOT_TELL_ON_EDGE, PLAYING, SLIPS } from './rates.ts';

const OCTAVE = 12;
/** Decibels that stand for a degree that no leak has caused: the middle of its class (limits 1, 3 and 8 dB). */
const DECIBELS = { none: 0, slight: 1.8, clear: 5, severe: 12 } as const;
const CLASS_FROM = { none: 0, slight: 1, clear: 3, severe: 8 } as const;
/** How near the threshold, in decibels, somebody may not be able to tell. */
const EDGE = 0.3;

/** How much a note is disturbed on this instrument, in decibels, and which other note comes; the second register's where that is fingered. */
export type Disturbance = {
  readonly decibels: number;
  readonly jumps: boolean;
  readonly sounded: number | null;
};

/** The disturbance of a note with these faults. @param pressed cups that somebody presses shut. */
export function disturbanceOf(
  the: Case,
  fingering: Fingering,
  faults: readonly PlacedFault[],
  pressed: readonly string[] = [],
): Disturbance {
  const { instrument } = the.maker;
  const effect = predictNote(instrument, fingering, faults, pressed);
  const losses = pressed.length === 0 ? predictLosses(instrument, fingering, faults) : null;
  const own =
    losses === null || fingering.register === 3 ? 0 : fingering.register === 1 ? losses.first : losses.second;
  let decibels = own >= CLASS_FROM[effect.degree] ? own : Math.max(own, DECIBELS[effect.degree]);
  const { unlisted } = the.truth;
  const passes = midi(fingering.note) - OCTAVE * (fingering.register - 1);
  if (unlisted !== null && passes <= unlisted.above) decibels = Math.max(decibels, unlisted.decibels);
  if (decibels > 0.5) decibels += the.draws.normal(`law/${fingering.id}`, PLAYING.lawError);
  return { decibels, jumps: effect.octaveUp, sounded: effect.sounded };
}

/** What the person says of a note, played with these faults in the instrument. Asked twice, the same. */
export function playNote(the: Case, fingering: Fingering, faults: readonly PlacedFault[]): NoteFinding {
  const {
    draws,
    situation: { person },
    weather,
  } = the;
  const name = `note/${fingering.id}`;
  const finding = { note: fingering.note, fingering: fingering.id } as const;
  const own = the.maker.instrument.fingerings.find(({ id }) => id === fingering.id);
  if (own === undefined) return { ...finding, answered: 'could-not-tell' };
  if (draws.chance(`${name}/cannot`, CANNOT_TELL[person] * weather.noise + weather.cannotTell))
    return { ...finding, answered: 'could-not-tell' };
  if (draws.chance(`${name}/slip`, SLIPS[person] * weather.noise))
    return { ...finding, answered: draws.pick(`${name}/slip/as`, ['speaks', 'unsteady', 'wrong', 'silent']) };

  const { decibels, jumps, sounded } = disturbanceOf(the, own, faults);
  const felt = decibels + weakness(the, own) + draws.normal(name, PLAYING.perNote[person] * weather.noise);
  const silentFrom = PLAYING.silentFrom + draws.normal(`${name}/force`, PLAYING.silentSpread);
  if (felt >= silentFrom) return { ...finding, answered: 'silent' };
  const other =
    (sounded === null ? null : nearestOnTube(the, own, sounded)) ??
    (jumps && felt >= PLAYING.jumpsFrom && draws.chance(`${name}/jumps`, PLAYING.jumps)
      ? midi(own.note) + OCTAVE
      : null);
  if (other !== null && notices(the, name, Math.abs(other - midi(own.note)))) {
    const named = nameOf(the, name, other);
    return { ...finding, answered: 'wrong', ...(named === null ? {} : { sounded: noteName(named) }) };
  }
  const onEdge = Math.abs(felt - PLAYING.unsteadyFrom) < EDGE;
  if (onEdge && draws.chance(`${name}/edge`, CANNOT_TELL_ON_EDGE * weather.noise))
    return { ...finding, answered: 'could-not-tell' };
  return { ...finding, answered: felt >= PLAYING.unsteadyFrom ? 'unsteady' : 'speaks' };
}

/** What the player of today adds to every note, and at the ends of the range that are out of reach; decibels. */
function weakness({ draws, situation: { person }, maker, weather }: Case, { note }: Fingering): number {
  const whole =
    draws.normal('embouchure', PLAYING.embouchure[person] * weather.noise) +
    draws.normal('reed', PLAYING.reed);
  const [few, many] = PLAYING.missing;
  const missing = few + draws.uniform('missing') * (many - few);
  const { lowest, highest } = maker.instrument.range;
  const isLow =
    midi(note) < midi(lowest) + missing &&
    draws.chance('without low', PLAYING.withoutLow[person] * weather.noise);
  const isHigh =
    midi(note) > midi(highest) - missing &&
    draws.chance('without high', PLAYING.withoutHigh[person] * weather.noise);
  // Far beyond "severe": mostly nothing comes, at times a struggling note.
  return whole + (isLow || isHigh ? PLAYING.silentFrom : 0);
}

function notices({ draws, situation: { person }, weather }: Case, name: string, interval: number): boolean {
  const rate =
    interval === 1
      ? PLAYING.noticesSemitone
      : interval % OCTAVE === 0
        ? PLAYING.noticesOctave
        : PLAYING.noticesOther;
  return draws.chance(`${name}/notices`, 1 - (1 - rate[person]) * weather.noise);
}

/** The note that is called, as a MIDI number; null when it is not named. */
function nameOf(the: Case, name: string, heard: number): number | null {
  const {
    draws,
    situation: { person },
    weather,
    maker,
  } = the;
  if (!draws.chance(`${name}/names`, PLAYING.names[person])) return null;
  const rightly = 1 - (1 - PLAYING.namesRightly[person]) * weather.noise;
  const up = draws.chance(`${name}/up`, 0.5) ? 1 : -1;
  const value = draws.uniform(`${name}/called`);
  if (value < rightly) return heard;
  if (value < rightly + PLAYING.namesSemitoneOff * weather.noise) return heard + up;
  if (value < rightly + (PLAYING.namesSemitoneOff + PLAYING.namesOctaveOff) * weather.noise)
    return heard + OCTAVE * up;
  return anyNote(maker.instrument, draws.uniform(`${name}/any`));
}

function anyNote({ range }: Instrument, share: number): number {
  return midi(range.lowest) + Math.floor(share * (midi(range.highest) - midi(range.lowest) + 1));
}

/** The partials that lips can find on a brass tube, those between the notes of the scale among them. */
const PARTIALS = Array.from({ length: 15 }, (_, index) => index + 2);

/**
 * The note that comes where a valve stands otherwise than fingered. Lips aim at the pitch that is meant, not quite truly, and get
 * the partial of the other tube that lies nearest; the engine takes it to be the same partial. On an instrument without a
 * tube it is the note that the mechanism gives.
 */
function nearestOnTube({ maker, draws }: Case, fingering: Fingering, samePartial: number): number | null {
  const { tube } = maker.instrument;
  if (tube === null) return samePartial;
  const meant = midi(fingering.note);
  const { lowers } = planOnTube(tube, fingering);
  const first = tube.fundamental - lowers + (samePartial - meant);
  const aim = meant + draws.normal(`note/${fingering.id}/lips`, PLAYING.lips);
  const pitches = PARTIALS.map((partial) => first + 12 * Math.log2(partial));
  const nearest = pitches.reduce((best, one) => (Math.abs(one - aim) < Math.abs(best - aim) ? one : best));
  // An impure seventh partial can pass for the note that is meant.
  return Math.round(nearest) === meant ? null : Math.round(nearest);
}
