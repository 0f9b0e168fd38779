/** How well stated chances came true, over many forecasts: for measuring the engine, on simulated or real instruments. */

/** A chance that was stated for something, and whether it came true. */
export type Forecast = { readonly chance: number; readonly cameTrue: boolean };

/** Brier score and its parts (score = reliability - resolution + uncertainty), log loss in nats, calibration error. */
export type ForecastScore = {
  readonly brier: number;
  readonly reliability: number;
  readonly resolution: number;
  readonly uncertainty: number;
  readonly logLoss: number;
  readonly calibrationError: number;
  /** What the calibration error would be on the average of so few forecasts if every stated chance were exactly right. */
  readonly calibrationNoise: number;
};

/**
 * Scores forecasts. Sources: Brier 1950, Monthly Weather Review 78:1-3; the three parts, Murphy 1973; expected
 * calibration error, Naeini et al. 2015; its noise by the normal approximation, E|x| = sigma * sqrt(2 / pi). The parts add up exactly only when all forecasts of a bin state one chance.
 * @param forecasts at least one. @param bins number of equal bins between 0 and 1.
 */
export function scoreForecasts(forecasts: readonly Forecast[], bins = 10): ForecastScore {
  const count = forecasts.length;
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const truth = ({ cameTrue }: Forecast) => (cameTrue ? 1 : 0);
  const base = mean(forecasts.map(truth));
  const groups = Map.groupBy(forecasts, ({ chance }) => Math.min(bins - 1, Math.floor(chance * bins + 1e-9)));
  let reliability = 0;
  let resolution = 0;
  let calibrationError = 0;
  let calibrationNoise = 0;
  for (const group of groups.values()) {
    const share = group.length / count;
    const stated = mean(group.map(({ chance }) => chance));
    const seen = mean(group.map(truth));
    reliability += share * (stated - seen) ** 2;
    resolution += share * (seen - base) ** 2;
    calibrationError += share * Math.abs(stated - seen);
    const variance = group.reduce((sum, { chance }) => sum + chance * (1 - chance), 0);
    calibrationNoise += Math.sqrt((2 * variance) / Math.PI) / count;
  }
  return {
    brier: mean(forecasts.map((forecast) => (forecast.chance - truth(forecast)) ** 2)),
    reliability,
    resolution,
    uncertainty: base * (1 - base),
    logLoss: mean(forecasts.map(({ chance, cameTrue }) => -Math.log(cameTrue ? chance : 1 - chance))),
    calibrationError,
    calibrationNoise,
  };
}
