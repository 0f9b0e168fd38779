/** A policy that knows the truth, and asks until the engine's own rule for stopping is content. */

import { HEALTHY, NO_FAULT, SOMETHING_ELSE } from '../../../../src/diagnosis/hypotheses.ts';
import {
  addFinding,
  type Belief,
  believe,
  type Check,
  checkOf,
  type DiagnosisModel,
  decide,
  type Finding,
  isProved,
  obstacleTo,
  playTest,
  proofsOf,
} from '../../../../src/diagnosis/index.ts';
import { predict } from '../../../../src/diagnosis/prediction.ts';
import { costOf } from '../../../../src/diagnosis/ranking.ts';
import { canDo } from '../../../../src/diagnosis/treatment.ts';
import { guessOf } from '../measures/guess.ts';
import type { Decision } from '../measures/result.ts';
import type { Case, Truth } from '../simulator/case.ts';
import { answerCheck } from '../simulator/inspector.ts';
import { playNote } from '../simulator/player.ts';
import { startMeter } from './effort.ts';

const MOST_CHECKS = 60;
/** Nats below which a check is not worth asking, for one who knows: it gives up where the answers speak against the truth. */
const WORTH_ASKING = 0.03;
/** Hypotheses below this share of the mass do not change which check tells most. */
const NEGLIGIBLE = 1e-4;

/**
 * How few checks could convince the engine's own model: plays the same page of notes as everybody, asks for the true
 * fault's own proof first, then the check that is expected to raise the true hypothesis most per second (Kullback-Leibler
 * divergence of its answers under the truth from those now expected). Stops where the engine would, or as soon as the
 * truth has the chance from which a fault is treated, and its proof where one is needed.
 */
export function decideKnowing(model: DiagnosisModel, the: Case): Decision {
  const { situation, truth } = the;
  const meter = startMeter(model, situation);
  const findings: Finding[] = situation.canPlay
    ? playTest(model, situation.person).first.map((fingering) => playNote(the, fingering, truth.faults))
    : [];
  meter.addNotes(findings.length);
  let belief = believe(model, findings, situation.person);
  const asked = new Set(findings.map((finding) => checkOf(model, finding)));
  const hypothesis = hypothesisOf(model, truth);
  for (let count = 0; ; count += 1) {
    const verdict = decide(model, belief, findings, situation, []);
    const goesOn = (verdict.kind === 'check' || verdict.kind === 'confirm') && count < MOST_CHECKS;
    const isSure = isConvinced(model, the, belief, findings);
    const position = goesOn && !isSure ? nextFor(model, the, belief, asked, hypothesis) : null;
    if (position === null)
      return {
        kind: verdict.kind === 'treat' ? 'treat' : verdict.kind === 'healthy' ? 'well' : 'bench',
        guess: guessOf(model, belief, the),
        effort: meter.read(),
      };
    const check = model.checks[position]!;
    const finding = answerTo(model, the, check);
    meter.add(check);
    asked.add(check.id);
    findings.push(finding);
    belief = addFinding(model, belief, finding, situation.person);
  }
}

function answerTo(model: DiagnosisModel, the: Case, check: Check): Finding {
  return check.kind === 'play'
    ? playNote(the, model.instrument.fingering(check.place), the.truth.faults)
    : { check: check.id, saw: answerCheck(the, model, check.id, the.truth.faults) };
}

/** Whether a true fault has the chance from which it would be acted on, with its own proof where it may be treated here. */
function isConvinced(
  model: DiagnosisModel,
  { truth, situation }: Case,
  belief: Belief,
  findings: readonly Finding[],
): boolean {
  return truth.faults.some(({ fault: { id } }) => {
    const fault = model.hypotheses.faultNumber.get(id)!;
    if (belief.present[fault]! < model.knowledge.people.rules.actAt.value) return false;
    return obstacleTo(model, fault, situation, []) !== null || isProved(model, fault, findings, situation);
  });
}

/** The true fault's proof, if it is still to be had; else the check that tells most. */
function nextFor(
  model: DiagnosisModel,
  the: Case,
  belief: Belief,
  asked: ReadonlySet<string>,
  hypothesis: number,
): number | null {
  const first = model.hypotheses.first[hypothesis]!;
  const proof =
    first === NO_FAULT || obstacleTo(model, first, the.situation, []) !== null
      ? undefined
      : proofsOf(model, first).find(({ position }) => {
          const check = model.checks[position]!;
          return !asked.has(check.id) && canDo(check, the.situation);
        });
  return proof?.position ?? tellingMost(model, the, belief.mass, asked, hypothesis);
}

/** The number of the hypothesis that is true, or comes nearest: of two faults that are too rare a pair, the first alone. */
function hypothesisOf({ hypotheses }: DiagnosisModel, { faults, unlisted }: Truth): number {
  if (unlisted !== null) return SOMETHING_ELSE;
  const [one, other] = faults;
  if (one === undefined) return HEALTHY;
  const numbers = faults.map(({ fault }) => hypotheses.faultNumber.get(fault.id)!).sort((a, b) => a - b);
  const having = [...hypotheses.having[numbers[0]!]!];
  const pair = having.find(
    (at) => hypotheses.first[at] === numbers[0] && hypotheses.second[at] === numbers[1],
  );
  if (other !== undefined && pair !== undefined) return pair;
  const alone = [...hypotheses.having[hypotheses.faultNumber.get(one.fault.id)!]!].filter(
    (at) => at < hypotheses.firstPair,
  );
  return alone.find((at) => hypotheses.placed[at]![0]!.severity === one.severity) ?? alone[0]!;
}

function tellingMost(
  model: DiagnosisModel,
  { situation }: Case,
  masses: Float64Array,
  asked: ReadonlySet<string>,
  hypothesis: number,
): number | null {
  const live = [...masses.keys()].filter((at) => masses[at]! >= NEGLIGIBLE);
  let best: number | null = null;
  let bestRate = 0;
  model.checks.forEach((check, position) => {
    if (asked.has(check.id) || !canDo(check, situation)) return;
    const predictions = model.predictions(position);
    const codes = live.map((at) => predict(model.predictor, predictions, at));
    const truth = predict(model.predictor, predictions, hypothesis);
    const rows = model.rows(position, situation.person);
    const own = rows[truth]!;
    const expected = new Float64Array(own.length);
    live.forEach((at, index) => {
      const row = rows[codes[index]!]!;
      for (let answer = 0; answer < row.length; answer += 1) expected[answer]! += masses[at]! * row[answer]!;
    });
    let divergence = 0;
    for (let answer = 0; answer < own.length; answer += 1)
      if (own[answer]! > 0) divergence += own[answer]! * Math.log(own[answer]! / expected[answer]!);
    const rate = divergence / costOf(model, check, situation);
    if (divergence >= WORTH_ASKING && rate > bestRate) {
      bestRate = rate;
      best = position;
    }
  });
  return best;
}
