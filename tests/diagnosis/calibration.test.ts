import { describe, expect, it } from 'vitest';
import { HEALTHY, NO_FAULT, SOMETHING_ELSE } from '../../src/diagnosis/hypotheses.ts';
import { believe, type Forecast, playCheckId, scoreForecasts, suspects } from '../../src/diagnosis/index.ts';
import { director, model } from './support/alto.ts';
import { answer, erring, playTestIds, randomFrom, runToVerdict } from './support/simulation.ts';

const INSTRUMENTS = 120;
const { hypotheses } = model;

/** Instruments drawn from the priors, their play tests answered by somebody who errs as people.yaml says. */
function drawInstruments() {
  const random = randomFrom(20);
  const priors = hypotheses.logPrior.map(Math.exp);
  priors[SOMETHING_ELSE] = 0;
  const pick = erring(random);
  return Array.from({ length: INSTRUMENTS }, () => {
    const hypothesis = pick(priors);
    const numbers = [hypotheses.first[hypothesis]!, hypotheses.second[hypothesis]!].filter(
      (fault) => fault !== NO_FAULT,
    );
    const truth = numbers.map((fault) => hypotheses.faults[fault]!.id);
    const played = playTestIds.map((id) => answer(hypothesis, playCheckId(id), pick));
    return { hypothesis, truth, played, pick };
  });
}

describe('on simulated instruments', () => {
  const instruments = drawInstruments();

  it('stated chances come true as often as they say', () => {
    const forecasts = instruments.flatMap(({ truth, played }): Forecast[] =>
      suspects(model, believe(model, played, 'director'))
        .faults.slice(0, 5)
        .map(({ fault, present }) => ({ chance: present, cameTrue: truth.includes(fault) })),
    );
    const { calibrationError, reliability } = scoreForecasts(forecasts);
    expect(calibrationError).toBeLessThan(0.05);
    expect(reliability).toBeLessThan(0.01);
  });

  it('erring people are led to a true fault nine times in ten, and few treatments are for nothing', () => {
    let found = 0;
    let treated = 0;
    let forNothing = 0;
    for (const { hypothesis, truth, played, pick } of instruments) {
      const { verdict, belief } = runToVerdict(hypothesis, director, played, { pick });
      const first = suspects(model, belief).faults.slice(0, 3);
      if (first.some(({ fault }) => truth.includes(fault))) found += 1;
      if (verdict.kind !== 'treat') continue;
      treated += 1;
      if (!truth.includes(verdict.fault)) forNothing += 1;
    }
    const withFault = instruments.filter(({ hypothesis }) => hypothesis !== HEALTHY).length;
    expect(found / withFault).toBeGreaterThan(0.88);
    expect(forNothing / treated).toBeLessThan(0.12);
  }, 60_000);
});
