import { playCheckId } from './check.ts';
import type { DiagnosisModel } from './model.ts';
import { completePredictions, predict } from './prediction.ts';

/**
 * Works out ahead what would otherwise be worked out when it is first asked for: the notes of the play test under every
 * hypothesis, the other checks under every single fault. Nothing depends on it but the time of the first answers.
 * Yields after every check, each some milliseconds of work, so that a server can attend to other things in between.
 */
export function* warmUp(model: DiagnosisModel): Generator<void, void, void> {
  for (const fingering of model.instrument.playTest) {
    completePredictions(model.predictor, model.predictions(model.positionOf(playCheckId(fingering.id))));
    yield;
  }
  for (const position of model.checks.keys()) {
    const predictions = model.predictions(position);
    for (let single = 0; single < model.hypotheses.firstPair; single += 1) {
      predict(model.predictor, predictions, single);
    }
    yield;
  }
}
