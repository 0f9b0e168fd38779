/** Reading findings: which check a finding is the answer to, and what it answered. */
import { type Fingering, type Instrument, midi, parseNote } from '../mechanism/index.ts';
import { type Check, NOTE_ANSWERS, playCheckId } from './check.ts';
import type { DiagnosisModel } from './model.ts';
import type { Finding } from './schema.ts';

export const COULD_NOT_TELL = 'could-not-tell';

/** A finding in the engine's terms. */
export type ReadFinding = {
  /** Position of the check; every played fingering is one. */
  readonly position: number;
  /** Position of the answer, or null for "could not tell". */
  readonly answer: number | null;
  /** MIDI number of the note that was heard instead; null when it was not named. */
  readonly sounded: number | null;
  /** The same for findings that say the same. */
  readonly key: string;
};

/**
 * The fingering that a played note means: the one named, or the standard one of the note in any spelling.
 * @throws RangeError for an unknown note or fingering; lists what is known.
 */
export function fingeringOf(instrument: Instrument, note: string, fingering?: string): Fingering {
  if (fingering !== undefined) return instrument.fingering(fingering);
  const number = parseNote(note);
  const standard = instrument.fingerings.filter(({ kind }) => kind === 'standard');
  const found = standard.find((candidate) => midi(candidate.note) === number);
  if (found === undefined) {
    const known = standard.map((candidate) => candidate.note).join(', ');
    throw new RangeError(`"${note}" is no written note of this instrument; it has ${known}`);
  }
  return found;
}

/** The id of the check that a finding answers. @throws RangeError as {@link fingeringOf} and for an unknown check. */
export function checkOf(model: DiagnosisModel, finding: Finding): string {
  if ('check' in finding) return model.check(finding.check).id;
  return playCheckId(fingeringOf(model.instrument, finding.note, finding.fingering).id);
}

/**
 * An answer to a check as a finding; a check of one note is told as the note that it is.
 * @param answer the id of one of its answers, or COULD_NOT_TELL; it is not looked up
 */
export function answerAsFinding(model: DiagnosisModel, check: Check, answer: string): Finding {
  if (check.kind !== 'play') return { check: check.id, saw: answer };
  const { note, id } = model.instrument.fingering(check.place);
  return { note, fingering: id, answered: answer as Extract<Finding, { note: string }>['answered'] };
}

/** Reads a finding. @throws RangeError for an unknown note, fingering, check or answer; the message lists what is known. */
export function readFinding(model: DiagnosisModel, finding: Finding): ReadFinding {
  const id = checkOf(model, finding);
  const position = model.positionOf(id);
  const saw = 'check' in finding ? finding.saw : finding.answered;
  const named = 'check' in finding ? undefined : finding.sounded;
  const sounded = saw === 'wrong' && named !== undefined ? parseNote(named) : null;
  if (named !== undefined && parseNote(named) === null)
    throw new RangeError(`"${named}" is no note name such as Bb3 or C#4`);
  const key = `${id}=${saw}${sounded === null ? '' : `:${sounded}`}`;
  if (saw === COULD_NOT_TELL) return { position, answer: null, sounded: null, key };
  const check = model.checks[position]!;
  const answers = check.kind === 'play' ? [...NOTE_ANSWERS] : check.answers.map((answer) => answer.id);
  const answer = answers.indexOf(saw as (typeof NOTE_ANSWERS)[number]);
  if (answer === -1)
    throw new RangeError(
      `"${saw}" is no answer to ${id}; it has ${answers.join(', ')} and ${COULD_NOT_TELL}`,
    );
  return { position, answer, sounded, key };
}
