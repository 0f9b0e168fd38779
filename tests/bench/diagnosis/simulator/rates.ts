/**
 * How simulated people err. None of it is read from flows/people.yaml: the engine reckons with chances for each answer,
 * these people have thresholds, habits and weak days.
 *
 * Nobody has published how well directors, students or callers judge an instrument, so each figure is an ESTIMATE with
 * its reason, except where a source is named. The one published anchor: trained visual inspectors raised a false alarm
 * at 2 in 100 good parts and missed 23 in 100 bad ones (encyclopedia article "Visual inspection", citing an inspection
 * study that was not opened).
 */
import type { Person } from '../../../../src/diagnosis/index.ts';

type ByPerson = Readonly<Record<Person, number>>;

/** The notes. Disturbances are decibels of the distance law; a director plays more evenly than a student or a caller. */
export const PLAYING = {
  /** Where a note begins to feel wrong: a little above 1 dB, from which the law's classes say that it is felt at all. */
  unsteadyFrom: 1.8,
  /** Where nothing comes: a little above the class limit "severe", 8 dB; how far players force a note through varies. */
  silentFrom: 10,
  silentSpread: 2.5,
  /** The embouchure of the day and the reed, in decibels on every note alike: standard deviations. */
  embouchure: { director: 0.5, helper: 0.7, desk: 0.8 } satisfies ByPerson,
  reed: 0.4,
  /** What differs from note to note: loudness, attack, attention. */
  perNote: { director: 0.7, helper: 0.8, desk: 0.9 } satisfies ByPerson,
  /** The law is a fit: 0.6 to 0.7 dB root mean square for a cone (header of src/mechanism/distance-law.ts). */
  lawError: 0.65,
  /** How often a note that favours the next register jumps there when it is plainly disturbed (from 3 dB). */
  jumps: 0.35,
  jumpsFrom: 3,
  /** Somebody who has no low (or high) notes at all. About one first- or second-year player in ten. */
  withoutLow: { director: 0.03, helper: 0.1, desk: 0.12 } satisfies ByPerson,
  withoutHigh: { director: 0.03, helper: 0.1, desk: 0.12 } satisfies ByPerson,
  /** How many semitones from the end are then missing: between these. */
  missing: [3, 8],
  /** How truly lips aim at a pitch on brass when the tube has another length than expected: semitones, standard deviation. */
  lips: 1.5,
  /** Another note that comes is heard as another one; a semitone and an octave escape an untrained ear more often. */
  noticesOther: { director: 0.97, helper: 0.9, desk: 0.88 } satisfies ByPerson,
  noticesSemitone: { director: 0.92, helper: 0.78, desk: 0.75 } satisfies ByPerson,
  noticesOctave: { director: 0.92, helper: 0.8, desk: 0.75 } satisfies ByPerson,
  /** It is then named at all, named rightly, or named a semitone or an octave off; the rest is any note. */
  names: { director: 0.8, helper: 0.6, desk: 0.5 } satisfies ByPerson,
  namesRightly: { director: 0.85, helper: 0.7, desk: 0.65 } satisfies ByPerson,
  namesSemitoneOff: 0.12,
  namesOctaveOff: 0.08,
} as const;

/** Answers that have nothing to do with what was there: a slip of the finger, a misread line. */
export const SLIPS: ByPerson = { director: 0.015, helper: 0.03, desk: 0.045 };
/** "I could not tell", without and with a case on the edge of what can be judged. */
export const CANNOT_TELL: ByPerson = { director: 0.015, helper: 0.03, desk: 0.06 };
export const CANNOT_TELL_ON_EDGE = 0.3;
/** Looks at another part than the one that is meant, and does so at every check of it. */
export const WRONG_PART: ByPerson = { director: 0.02, helper: 0.04, desk: 0.06 };

/**
 * Senses: the size of a fault at which half the people see it, in the mechanism's strengths (0.12 slight, 0.6 moderate, 3
 * gross), and how far people differ, in doublings of that size. Half the spread belongs to person and part together and
 * comes back at every check of that part; the other half is the check's own.
 *
 * `look` is set so that the published anchor comes out: 2 in 100 false alarms, about 20 in 100 moderate faults missed.
 * What is pointed out and watched, felt, or tested with paper or light is surer; a good pad pulls at the paper, light
 * needs no touch. `listen` is a note before and after.
 */
export const SENSES: Readonly<Record<string, { readonly halfSee: number; readonly spread: number }>> = {
  look: { halfSee: 0.25, spread: 1.4 },
  watch: { halfSee: 0.12, spread: 1.2 },
  feel: { halfSee: 0.13, spread: 1.2 },
  paper: { halfSee: 0.07, spread: 0.9 },
  light: { halfSee: 0.06, spread: 0.7 },
  listen: { halfSee: 0.1, spread: 1.2 },
};
/** Every part of a sound old instrument is a little worn: median strength, and spread in doublings. It makes false alarms. */
export const WEAR = { median: 0.015, spread: 1 } as const;
/** A note before and after something is done: the gain in decibels that half the people hear, and their spread. */
export const GAIN = { halfHear: 1.8, spread: 1.4 } as const;
/** A sign that is caught is told as what it is, or as another sign. */
export const TOLD_RIGHTLY = 0.93;
/** What somebody remembers or admits, and tales of what never was. */
export const MEMORY = { recalls: 0.85, invents: 0.03 } as const;

/** Hands: the screw that looks just like the right one is taken for it; more often where a maker swapped the two. */
export const HANDS = {
  wrongScrew: 0.03,
  wrongScrewWhenSwapped: 0.12,
  /** Where the two are swapped, a person who watches the key move notices and stops. */
  stopsWhenSwapped: 0.5,
  /** Works that need no tool come off so often when the fault is there. */
  comesOff: 0.85,
  /** Says "it is gone" although nothing changed, because one would like it to be. */
  wishful: 0.05,
  /** Eighths of a turn that a screw is off, by severity: a slight fault is the last quarter turn (src/mechanism/severity.ts). */
  eighths: { slight: [1, 2], moderate: [3, 5], gross: [6, 10] },
} as const;

/** What belongs to the maker and is not in the stock description: how often. */
export const MAKERS = {
  /** A part that most instruments have, that some have (as the data's own `presence`). Estimate, as in frequencies.yaml. */
  has: { most: 0.8, some: 0.15 },
  swapped: 0.15,
} as const;

/** What people have to hand, and who may play. */
export const TOOLS: Readonly<Record<string, ByPerson>> = {
  screwdriver: { director: 0.9, helper: 0.7, desk: 0.3 },
  paper: { director: 0.95, helper: 0.9, desk: 0.5 },
  'leak-light': { director: 0.15, helper: 0.1, desk: 0 },
  'second-person': { director: 0.6, helper: 0.9, desk: 0.4 },
  'own-mouthpiece': { director: 0.8, helper: 0.6, desk: 0.3 },
};
export const CAN_PLAY: ByPerson = { director: 0.97, helper: 0.92, desk: 0.85 };

/** Signs that send an instrument to the bench at once, besides what is bent grossly: how often one is there, and is seen. */
export const DANGER = { isThere: 0.02, seen: { director: 0.95, helper: 0.9, desk: 0.85 } } as const;

/** Something that is not in the list: a crack or a leaking seam, this many decibels on every note whose column passes it. */
export const UNLISTED = { least: 2, most: 10 } as const;
