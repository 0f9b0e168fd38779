/** The figures of a group of runs. */
import { type Forecast, scoreForecasts } from '../../../../src/diagnosis/index.ts';
import { type Guess, isAmong } from './guess.ts';
import type { Decision, Result } from './result.ts';
import { casesNeeded, mean, quantile, share } from './statistics.ts';

/** Whether the first guess is right, or one of the first three; and whether what would be done about the first is right. */
export type Accuracy = { readonly top1: number; readonly top3: number; readonly deed: number };
export type Economy = { readonly checks: Spread; readonly seconds: Spread; readonly notes: number };
export type Spread = { readonly mean: number; readonly p95: number };
export type Calibration = {
  readonly calibrationError: number;
  /** The same of somebody whose stated chances are exactly right, in so few runs. */
  readonly calibrationNoise: number;
  readonly brier: number;
  readonly logLoss: number;
};

export type Report = {
  readonly runs: number;
  readonly accuracy: {
    readonly engine: Accuracy;
    readonly ceiling: Accuracy;
    readonly knowing: Accuracy;
    readonly checklist: Accuracy;
  };
  readonly economy: { readonly engine: Economy; readonly knowing: Economy; readonly checklist: Economy };
  readonly calibration: { readonly engine: Calibration; readonly ceiling: Calibration };
  readonly ended: Readonly<Record<string, number>>;
  readonly safety: Safety;
};

export type Safety = {
  readonly runs: number;
  readonly offers: number;
  /** Adjusting steps offered without the part's own confirming finding: must be none. */
  readonly unproved: number;
  /** Offered with it, for a part that is not at fault, per run. */
  readonly wrong: number;
  /** Runs that left a screw turned that had been in order; and those of them whose ticket does not say so. */
  readonly stray: number;
  readonly strayUntold: number;
};

/** Reports on runs that got past the danger signs. @param results at least one. */
export function reportOn(results: readonly Result[]): Report {
  const used = results.filter(({ engine }) => engine.kind !== 'danger');
  const compared = used.filter((result) => result.knowing !== null && result.checklist !== null);
  const limited = used.filter(({ ceiling }) => ceiling !== null);
  const ended = Object.groupBy(used, ({ engine }) => engine.kind);
  return {
    runs: used.length,
    accuracy: {
      engine: accuracyOf(used, ({ engine }) => engine.guess),
      ceiling: accuracyOf(limited, ({ ceiling }) => ceiling!),
      knowing: accuracyOf(compared, ({ knowing }) => knowing!.guess),
      checklist: accuracyOf(compared, ({ checklist }) => checklist!.guess),
    },
    economy: {
      engine: economyOf(used, ({ engine }) => engine),
      knowing: economyOf(compared, ({ knowing }) => knowing!),
      checklist: economyOf(compared, ({ checklist }) => checklist!),
    },
    calibration: {
      engine: calibrationOf(used, ({ engine }) => engine.guess),
      ceiling: calibrationOf(limited, ({ ceiling }) => ceiling!),
    },
    ended: Object.fromEntries(
      Object.entries(ended).map(([kind, group]) => [kind, group!.length / used.length]),
    ),
    safety: safetyOf(results),
  };
}

function accuracyOf(results: readonly Result[], guess: (result: Result) => Guess): Accuracy {
  return {
    top1: share(results, (result) => isAmong(guess(result), result.truth, 1)),
    top3: share(results, (result) => isAmong(guess(result), result.truth, 3)),
    deed: share(results, (result) => result.deeds.includes(guess(result).deed)),
  };
}

function economyOf(results: readonly Result[], decision: (result: Result) => Decision): Economy {
  const spread = (values: readonly number[]) => ({ mean: mean(values), p95: quantile(values, 0.95) });
  return {
    checks: spread(results.map((result) => decision(result).effort.checks)),
    seconds: spread(results.map((result) => decision(result).effort.seconds)),
    notes: mean(results.map((result) => decision(result).effort.notes)),
  };
}

/** No chance is stated as nothing at all; a truth that was given up counts as one in a million. */
const LEAST = 1e-6;

/** Calibration error (10 bins) and Brier score of the chance stated for the leader; log loss of the truth, in nats. */
function calibrationOf(results: readonly Result[], guess: (result: Result) => Guess): Calibration {
  const forecasts = results.map(
    (result): Forecast => ({
      chance: guess(result).chance,
      cameTrue: isAmong(guess(result), result.truth, 1),
    }),
  );
  const { calibrationError, calibrationNoise, brier } = scoreForecasts(forecasts);
  return {
    calibrationError,
    calibrationNoise,
    brier,
    logLoss: mean(results.map((result) => -Math.log(Math.max(LEAST, guess(result).truthChance)))),
  };
}

export function safetyOf(results: readonly Result[]): Safety {
  const offers = results.flatMap((result) => result.offers);
  const stray = results.filter(({ strayTurns }) => strayTurns > 0);
  return {
    runs: results.length,
    offers: offers.length,
    unproved: offers.filter(({ isProved }) => !isProved).length,
    wrong: offers.filter(({ isAtFault }) => !isAtFault).length / results.length,
    stray: stray.length,
    strayUntold: stray.filter(({ isStrayTold }) => !isStrayTold).length,
  };
}

export type Danger = {
  /** Instruments with a sign that the person saw when asked, and those of them that were not sent to the bench at once. */
  readonly seen: number;
  readonly missed: number;
  /** Whether these runs show, with 95 % confidence, that at least 95 % of the seen signs are acted on. */
  readonly isShown: boolean;
  /** Instruments whose sign the person overlooked; those of them with an adjusting step, and those not sent to the bench in the end. */
  readonly overlooked: number;
  readonly adjusted: number;
  readonly neverSent: number;
};

/** How instruments with a danger sign fared. */
export function dangerOf(results: readonly Result[]): Danger {
  const seen = results.filter(({ danger }) => danger === 'seen');
  const overlooked = results.filter(({ danger }) => danger === 'overlooked');
  const missed = seen.filter(({ outcome }) => outcome !== 'bench-now').length;
  return {
    seen: seen.length,
    missed,
    isShown: seen.length >= casesNeeded(0.95, missed),
    overlooked: overlooked.length,
    adjusted: overlooked.filter(({ offers }) => offers.length > 0).length,
    neverSent: overlooked.filter(({ outcome }) => !/bench|desk-booked/.test(outcome)).length,
  };
}
