import { describe, expect, it } from 'vitest';
import { SOMETHING_ELSE } from '../../src/diagnosis/hypotheses.ts';
import {
  addFinding,
  believe,
  checkOf,
  decide,
  type Finding,
  playCheckId,
  playTest,
  type Verdict,
} from '../../src/diagnosis/index.ts';
import { costOf, nextChecks, toolsInHand } from '../../src/diagnosis/ranking.ts';
import { director, model } from './support/alto.ts';
import { answer, erring, hypothesisOf, playedExactly, randomFrom } from './support/simulation.ts';

const first = playTest(model, 'director').first.map(({ id }) => id);

/** What may be answered to a check, a note that is wrong without its name included. */
function answersTo(id: string): Finding[] {
  const check = model.check(id);
  if (check.kind !== 'play') return check.answers.map((one) => ({ check: id, saw: one.id }));
  const { note } = model.instrument.fingering(check.place);
  return (['speaks', 'unsteady', 'wrong', 'silent'] as const).map((answered) => ({
    note,
    fingering: check.place,
    answered,
  }));
}

const goesOn = ({ kind }: Verdict) => kind === 'check' || kind === 'confirm';

/** The questions put to somebody who errs, on instruments drawn from the priors: what had been found before each, and how many. */
function* questions(count: number) {
  const priors = model.hypotheses.logPrior.map(Math.exp);
  priors[SOMETHING_ELSE] = 0;
  const pick = erring(randomFrom(7));
  for (let drawn = 0; drawn < count; drawn += 1) {
    const hypothesis = pick(priors);
    const findings = first.map((id) => answer(hypothesis, playCheckId(id), pick));
    let belief = believe(model, findings, 'director');
    for (let asked = 0; ; asked += 1) {
      const verdict = decide(model, belief, findings, director, [], { askedSingly: asked });
      if (verdict.kind !== 'check' && verdict.kind !== 'confirm') break;
      yield { verdict, belief, findings: [...findings], asked };
      const finding = answer(hypothesis, verdict.check, pick);
      findings.push(finding);
      belief = addFinding(model, belief, finding, 'director');
    }
  }
}

describe('a question', () => {
  it('is never asked where every answer would end the asking in the same way', () => {
    let count = 0;
    for (const { verdict, belief, findings, asked } of questions(6)) {
      if (verdict.kind !== 'check') continue;
      count += 1;
      const ends = new Set<string>();
      for (const finding of answersTo(verdict.check)) {
        const after = addFinding(model, belief, finding, 'director');
        const end = decide(model, after, [...findings, finding], director, [], { askedSingly: asked + 1 });
        ends.add(goesOn(end) ? 'goes on' : JSON.stringify(end));
        if (ends.size > 1 || goesOn(end)) break;
      }
      const isIdle = ends.size === 1 && !ends.has('goes on');
      expect(isIdle, `${verdict.check} after ${findings.map((finding) => checkOf(model, finding))}`).toBe(
        false,
      );
    }
    expect(count).toBeGreaterThan(20);
  }, 60_000);
});

describe('tools', () => {
  const paper = model.checks.filter(({ tools }) => tools.length === 1 && tools[0] === 'paper');

  it('cost nothing to fetch while they are in hand', () => {
    const [check] = paper;
    const { persons, tools } = model.knowledge.people.costs;
    const fetched = costOf(model, check!, director);
    expect(fetched - costOf(model, check!, director, ['paper'])).toBeCloseTo(
      tools.paper! * persons.director,
      9,
    );
    expect(costOf(model, check!, director, ['leak-light'])).toBe(fetched);
  });

  it('are in hand after the check that needed them, until another check', () => {
    const [check] = paper;
    const slips: Finding = { check: check!.id, saw: check!.answers[0]!.id };
    expect(toolsInHand(model, [])).toEqual([]);
    expect(toolsInHand(model, [slips])).toEqual(['paper']);
    const played: Finding = { note: 'G4', fingering: model.instrument.fingerings[0]!.id, answered: 'speaks' };
    expect(toolsInHand(model, [slips, played])).toEqual([]);
  });

  it('in hand make the checks that need them cheaper, and no other', () => {
    const belief = believe(model, playedExactly(hypothesisOf('leaks@cup.d')), 'director');
    const costs = (inHand: readonly 'paper'[]) =>
      new Map(
        nextChecks(model, belief, director, new Set(), [], { inHand }).map(({ check, cost }) => [
          check,
          cost,
        ]),
      );
    const without = costs([]);
    let cheaper = 0;
    for (const [check, cost] of costs(['paper'])) {
      const before = without.get(check);
      if (before === undefined) continue;
      const needsPaper = model.check(check).tools.includes('paper');
      if (needsPaper) cheaper += 1;
      expect(cost < before).toBe(needsPaper);
    }
    expect(cheaper).toBeGreaterThan(0);
  });
});
