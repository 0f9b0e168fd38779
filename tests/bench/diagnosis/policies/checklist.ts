/** A fixed list in the trade's usual order, gone through until something is found. */
import {
  type Check,
  COULD_NOT_TELL,
  type DiagnosisModel,
  type Finding,
  playTest,
  provedBy,
} from '../../../../src/diagnosis/index.ts';
import { canDo } from '../../../../src/diagnosis/treatment.ts';
import { deedFor, type Guess, HEALTHY_ID } from '../measures/guess.ts';
import type { Decision } from '../measures/result.ts';
import type { Case } from '../simulator/case.ts';
import { answerCheck } from '../simulator/inspector.ts';
import { playNote } from '../simulator/player.ts';
import { startMeter } from './effort.ts';

/**
 * The order (common practice, no source): what goes on the instrument first; then the tube and its joints; keys that stick;
 * the regulation of the links, which a screw can mend; each cup by eye; each pad with paper, or by ear where there is none.
 * Within a line from the top of the tube down.
 */
const ORDER: readonly (readonly string[])[] = [
  ['own-set-up'],
  ['try-reed', 'look-ligature', 'mouthpiece-place'],
  ['good-player', 'watch-hands'],
  ['wobble', 'look-inside', 'drain'],
  ['lift', 'blow-through'],
  ['tap', 'lands', 'free-play', 'switch-over'],
  ['look', 'height'],
  ['paper'],
  ['press-shut'],
];

/** Goes down the list until a finding proves a fault; with all notes speaking it is called well without a check. */
export function decideByList(model: DiagnosisModel, the: Case): Decision {
  const { situation, truth } = the;
  const meter = startMeter(model, situation);
  const notes = situation.canPlay
    ? playTest(model, situation.person).first.map((fingering) => playNote(the, fingering, truth.faults))
    : [];
  meter.addNotes(notes.length);
  const failed = notes.filter(({ answered }) => answered !== 'speaks' && answered !== 'could-not-tell');
  if (notes.length > 0 && failed.length === 0)
    return { kind: 'well', guess: guessing(model, the, [HEALTHY_ID]), effort: meter.read() };
  for (const check of listOf(model)) {
    if (!canDo(check, situation)) continue;
    const finding: Finding = { check: check.id, saw: answerCheck(the, model, check.id, truth.faults) };
    meter.add(check);
    if (finding.saw === COULD_NOT_TELL) continue;
    const proved = provedBy(model, finding);
    if (proved.length > 0)
      return { kind: 'treat', guess: guessing(model, the, proved), effort: meter.read() };
  }
  return { kind: 'bench', guess: guessing(model, the, []), effort: meter.read() };
}

function listOf(model: DiagnosisModel): Check[] {
  return ORDER.flatMap((kinds) => model.checks.filter(({ kind }) => kinds.includes(kind)));
}

/** A list states no chances. */
const guessing = (model: DiagnosisModel, { situation }: Case, first: readonly string[]): Guess => ({
  first: first.slice(0, 3),
  chance: 1,
  truthChance: 0,
  deed: deedFor(model, first[0], situation),
});
