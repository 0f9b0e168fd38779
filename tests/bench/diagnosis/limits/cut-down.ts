/** Small instruments cut out of the real model, small enough that the best policy can be worked out. */

import { HEALTHY } from '../../../../src/diagnosis/hypotheses.ts';
import {
  addFinding,
  type Belief,
  type DiagnosisModel,
  nextChecks,
  type Person,
  type Situation,
  startBelief,
  withTreated,
} from '../../../../src/diagnosis/index.ts';
import { predict } from '../../../../src/diagnosis/prediction.ts';
import { costOf } from '../../../../src/diagnosis/ranking.ts';
import { actionClasses, canDo, classOf, proofsOf } from '../../../../src/diagnosis/treatment.ts';
import { type Draws, drawsOf } from '../simulator/draws.ts';
import {
  type Choice,
  costOfPolicy,
  exactOptimum,
  type SmallCheck,
  type SmallProblem,
  type Step,
} from './exact.ts';
import { lookingAhead } from './look-ahead.ts';

const FAULTS = 11;
const CHECKS = 8;
/** What a wrong call costs: half an hour of somebody's time, in seconds; estimate. */
const WRONG_CALL = 1800;

/** The small problem, and what its numbers stand for in the model. */
export type CutDown = {
  readonly problem: SmallProblem;
  /** Number of each hypothesis, and position of each check, in the model. */
  readonly hypotheses: readonly number[];
  readonly positions: readonly number[];
  readonly situation: Situation;
};

/**
 * Cuts out some faults, drawn by their frequency, at moderate severity, beside "nothing wrong"; and checks that tell them
 * apart: their proofs and whatever else of theirs is drawn. Each check is at another place, so that their answers err
 * independently in the model too.
 */
export function cutDown(model: DiagnosisModel, person: Person, seed: number): CutDown {
  const draws = drawsOf(`cut down/${model.instrument.id}/${person}/${seed}`);
  const situation: Situation = {
    person,
    tools: ['screwdriver', 'paper', 'second-person', 'own-mouthpiece'],
    canPlay: true,
    ownerAllows: true,
  };
  const faults = drawFaults(model, draws);
  const hypotheses = [HEALTHY, ...faults.map((fault) => model.hypotheses.middle[fault]!)];
  const positions = drawChecks(model, situation, draws, { faults, hypotheses });
  const weights = hypotheses.map((hypothesis) => Math.exp(model.hypotheses.logPrior[hypothesis]!));
  const all = weights.reduce((sum, weight) => sum + weight, 0);
  const classes = actionClasses(model, situation, []);
  const { first, second } = model.hypotheses;
  return {
    problem: {
      prior: weights.map((weight) => weight / all),
      classes: hypotheses.map((at) => classOf(classes, first[at]!, second[at]!)),
      checks: positions.map((position) => smallCheck(model, situation, position, hypotheses)),
      wrongCall: WRONG_CALL,
    },
    hypotheses,
    positions,
    situation,
  };
}

function drawFaults({ hypotheses }: DiagnosisModel, draws: Draws): number[] {
  const drawn: number[] = [];
  while (drawn.length < FAULTS) {
    const left = [...hypotheses.middle.keys()].filter((fault) => !drawn.includes(fault));
    drawn.push(
      draws.pick(`fault ${drawn.length}`, left, (fault) =>
        Math.exp(hypotheses.logPrior[hypotheses.middle[fault]!]!),
      ),
    );
  }
  return drawn;
}

function drawChecks(
  model: DiagnosisModel,
  situation: Situation,
  draws: Draws,
  { faults, hypotheses }: { readonly faults: readonly number[]; readonly hypotheses: readonly number[] },
): number[] {
  const proofs = faults.flatMap((fault) => proofsOf(model, fault).map(({ position }) => position));
  const order = [
    ...new Set(proofs),
    ...[...model.checks.keys()].filter((position) => !proofs.includes(position)),
  ];
  const chosen: number[] = [];
  const ranks = new Map(
    order.map((position) => [
      position,
      (proofs.includes(position) ? 0 : 1) + draws.uniform(`check ${position}`),
    ]),
  );
  order.sort((one, other) => ranks.get(one)! - ranks.get(other)!);
  for (const position of order) {
    if (chosen.length === CHECKS) break;
    const { group, place } = model.checks[position]!;
    const isSuitable = group !== 'play' && canDo(model.checks[position]!, situation);
    const isNewPlace = chosen.every((other) => model.checks[other]!.place !== place);
    if (isSuitable && isNewPlace && tellsApart(model, position, hypotheses)) chosen.push(position);
  }
  return chosen;
}

function tellsApart(model: DiagnosisModel, position: number, hypotheses: readonly number[]): boolean {
  const predictions = model.predictions(position);
  return new Set(hypotheses.map((at) => predict(model.predictor, predictions, at))).size > 1;
}

function smallCheck(
  model: DiagnosisModel,
  situation: Situation,
  position: number,
  hypotheses: readonly number[],
): SmallCheck {
  const predictions = model.predictions(position);
  const codes = hypotheses.map((at) => predict(model.predictor, predictions, at));
  const rows = model.rows(position, situation.person);
  return {
    chances: codes.map((code) => [...rows[code]!]),
    cost: costOf(model, model.checks[position]!, situation),
  };
}

/** Expected seconds, wrong calls included: of the best policy, of the engine's choice of checks, and of one that looks ahead. */
export type Regret = { readonly optimum: number; readonly engine: number; readonly lookingAhead: number };

/** So many checks are tried by the policy that looks ahead. */
const FEW = 3;

/** Measures the engine's choice of checks on a small problem; each policy stops at its best moment. */
export function measureCutDown(model: DiagnosisModel, small: CutDown): Regret {
  return {
    optimum: exactOptimum(small.problem).cost,
    engine: costOfPolicy(small.problem, engineChoice(model, small)),
    lookingAhead: costOfPolicy(small.problem, lookingAhead(small.problem, FEW)),
  };
}

/** Beyond hope for every hypothesis that has been cut away; natural logarithm. */
const CUT_AWAY = -1e6;

/** What the engine would ask next, in a model in which only these hypotheses are possible and only these checks are left. */
function engineChoice(model: DiagnosisModel, { hypotheses, positions, situation }: CutDown): Choice {
  const outside = model.checks.flatMap(({ id }, position) => (positions.includes(position) ? [] : [id]));
  const beliefs = new Map<string, Belief>([['', startAmong(model, hypotheses)]]);
  const beliefAfter = (path: readonly Step[]): Belief => {
    const key = path.map(({ check, answer }) => `${check}:${answer}`).join(' ');
    const known = beliefs.get(key);
    if (known !== undefined) return known;
    const { check, answer } = path.at(-1)!;
    const { id, answers } = model.checks[positions[check]!]!;
    const finding = { check: id, saw: answers[answer]!.id };
    const belief = addFinding(model, beliefAfter(path.slice(0, -1)), finding, situation.person);
    beliefs.set(key, belief);
    return belief;
  };
  return (_, __, path) => {
    const asked = new Set([...outside, ...path.map(({ check }) => model.checks[positions[check]!]!.id)]);
    const [best] = nextChecks(model, beliefAfter(path), situation, asked);
    return best === undefined ? null : positions.indexOf(model.positionOf(best.check));
  };
}

/** The belief before anything is found, when only these hypotheses are possible. */
function startAmong(model: DiagnosisModel, hypotheses: readonly number[]): Belief {
  const start = startBelief(model);
  const fit = new Float64Array(start.fit.length).fill(CUT_AWAY);
  for (const hypothesis of hypotheses) fit[hypothesis] = 0;
  // Settled anew, as after a treatment that is then taken out again.
  const settled = { fault: model.hypotheses.faults[0]!.id, exit: 'unchanged' as const };
  return withTreated(model, { ...start, fit, treated: [settled] }, []);
}
