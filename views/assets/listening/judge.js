/**
 * Judges one take of one note: pure rules over frames, nothing of the browser.
 *
 * In this order: too little was heard to say anything; nothing spoke; two notes take turns (jumps); another note sounds
 * throughout (wrong); the right note beats, breaks up or warbles (unsteady); the right note holds (speaks). Whatever fits
 * none of these is "not sure". A player's own wobble looks like that of a leak, and how hard somebody had to blow is not
 * in the sound, so a verdict is a proposal that a person confirms.
 */
import { beatDepth, beatRate, middleRange, quantile } from './measures.js';
import { frameStep, thresholds } from './thresholds.js';

/**
 * @typedef {'speaks' | 'unsteady' | 'jumps' | 'wrong' | 'silent' | 'not-sure'} Verdict
 *
 * @typedef {object} Judgement
 * @property {Verdict} verdict
 * @property {string[]} reasons whole sentences
 * @property {number | null} heard semitones from the note asked for to the one heard; null unless the verdict is wrong
 *
 * @typedef {import('./frames.js').Frame} Frame
 */

/**
 * @param {readonly Frame[]} take the frames from the first sound on; all that there is when nothing sounded
 * @param {number} expected frequency in hertz of the note asked for
 * @param {(semitones: number) => string} nameOf name of the note so many semitones from the one asked for
 * @returns {Judgement}
 */
export function judge(take, expected, nameOf = inSemitones) {
  if (take.length === 0 || take.every(({ level }) => level === 0)) {
    return notSure('The microphone gives no sound at all. Look whether it is switched off or covered.');
  }
  if (take.every(({ level }) => level < thresholds.level)) {
    return say('silent', 'Nothing was heard above the quiet of the room.');
  }
  if (take.length < thresholds.frames) {
    return notSure('That was too short. Hold the note for two seconds.');
  }
  const body = take.slice(Math.floor(take.length * thresholds.attack));
  const pitched = body.filter(hasPitch);
  const spoken = pitched.length / body.length;
  if (spoken < thresholds.spoken) return say('silent', 'Breath or noise was heard, and no note.');

  const cents = pitched.map(({ frequency }) => 1200 * Math.log2(frequency / expected));
  return (
    judgeJump(cents, nameOf) ??
    judgeOther(cents, nameOf) ??
    judgeUnsteady(body, pitched, cents, spoken) ??
    judgeHeld(cents)
  );
}

/**
 * Whether a pitch can be told from a frame.
 * @param {Frame} frame
 */
export function hasPitch({ level, clarity, frequency }) {
  return level >= thresholds.level && clarity >= thresholds.clarity && frequency > 0;
}

/**
 * Two notes take turns: the two that most frames have, far enough apart.
 * @param {readonly number[]} cents
 * @param {(semitones: number) => string} nameOf
 * @returns {Judgement | null}
 */
function judgeJump(cents, nameOf) {
  /** @type {Map<number, number>} */
  const counts = new Map();
  for (const each of cents) {
    const semitone = Math.round(each / 100);
    counts.set(semitone, (counts.get(semitone) ?? 0) + 1);
  }
  const often = [...counts].sort(([, one], [, other]) => other - one).map(([semitone]) => semitone);
  const [first = 0] = often;
  const second = often.find((semitone) => Math.abs(semitone - first) * 100 >= thresholds.jumpWidth);
  if (second === undefined) return null;
  const near = (/** @type {number} */ semitone) => shareNear(cents, semitone * 100);
  if (near(first) < thresholds.jump || near(second) < thresholds.jump) return null;
  const names = [first, second].sort((one, other) => one - other).map(nameOf);
  return say('jumps', `It jumps between ${names.join(' and ')}.`);
}

/**
 * Another note throughout.
 * @param {readonly number[]} cents
 * @param {(semitones: number) => string} nameOf
 * @returns {Judgement | null}
 */
function judgeOther(cents, nameOf) {
  const middle = quantile(cents, 0.5);
  const semitone = Math.round(middle / 100);
  if (Math.abs(middle) < thresholds.otherNote || semitone === 0) return null;
  if (shareNear(cents, middle) < thresholds.agreement) return null;
  return { verdict: 'wrong', reasons: [`${nameOf(semitone)} came out.`], heard: semitone };
}

/**
 * Breaks up, warbles or beats, all at about the right pitch.
 * @param {readonly Frame[]} body
 * @param {readonly Frame[]} pitched
 * @param {readonly number[]} cents
 * @param {number} spoken
 * @returns {Judgement | null}
 */
function judgeUnsteady(body, pitched, cents, spoken) {
  if (Math.abs(quantile(cents, 0.5)) > thresholds.sameNote) return null;
  const levels = body.map(({ level }) => level);
  const depth = beatDepth(levels);
  const rate = beatRate(levels, frameStep);
  const reasons = [];
  if (spoken < thresholds.whole) reasons.push('The note breaks up.');
  if (middleRange(pitched.map(({ upper }) => upper)) > thresholds.registerRange) {
    reasons.push('It warbles: the next register comes and goes.');
  }
  if (depth > thresholds.anyDepth || (depth > thresholds.fastDepth && rate > thresholds.fastRate)) {
    reasons.push(`Its loudness wavers, about ${Math.round(rate)} times a second.`);
  }
  if (middleRange(cents) > thresholds.pitchRange) reasons.push('Its pitch wavers.');
  return reasons.length === 0 ? null : { verdict: 'unsteady', reasons, heard: null };
}

/**
 * @param {readonly number[]} cents
 * @returns {Judgement}
 */
function judgeHeld(cents) {
  if (shareNear(cents, 0) >= thresholds.agreement) return say('speaks', 'The note came and held.');
  const middle = quantile(cents, 0.5);
  const isBetween = Math.abs(middle) > thresholds.sameNote && Math.abs(middle) < thresholds.otherNote;
  return notSure(
    isBetween
      ? `It lies between two notes, ${middle > 0 ? 'sharp' : 'flat'}. Warm the instrument up, and look how far it is pushed together.`
      : 'The pitch would not settle. Play it once more, alone and in a quiet place.',
  );
}

/**
 * @param {readonly number[]} cents
 * @param {number} middle
 */
function shareNear(cents, middle) {
  return cents.filter((each) => Math.abs(each - middle) <= thresholds.sameNote).length / cents.length;
}

/** @param {number} semitones */
function inSemitones(semitones) {
  if (semitones === 0) return 'the note';
  return `a note ${Math.abs(semitones)} semitones ${semitones > 0 ? 'higher' : 'lower'}`;
}

/**
 * @param {Verdict} verdict
 * @param {string} reason
 * @returns {Judgement}
 */
function say(verdict, reason) {
  return { verdict, reasons: [reason], heard: null };
}

/**
 * @param {string} reason
 * @returns {Judgement}
 */
function notSure(reason) {
  return say('not-sure', reason);
}
