/** Plain figures of a row of numbers: parts of a hundred, depth and rate of a beating. */

/**
 * @param {readonly number[]} numbers
 * @param {number} share 0 to 1; 0.5 is the median
 * @returns {number} NaN for no numbers
 */
export function quantile(numbers, share) {
  if (numbers.length === 0) return Number.NaN;
  const sorted = [...numbers].sort((one, other) => one - other);
  const place = (sorted.length - 1) * share;
  const below = sorted[Math.floor(place)] ?? 0;
  const above = sorted[Math.ceil(place)] ?? 0;
  return below + (above - below) * (place - Math.floor(place));
}

/**
 * From the 5th to the 95th part of a hundred: the range without what is odd.
 * @param {readonly number[]} numbers
 */
export function middleRange(numbers) {
  return quantile(numbers, 0.95) - quantile(numbers, 0.05);
}

/**
 * Depth of the beating of a level: (p95 - p5) / (p95 + p5), 0 for none, 1 for a level that goes to nothing. A steady
 * growing or dying away of the whole take is taken out first, as a straight line through the decibels.
 * @param {readonly number[]} levels above nothing, at equal steps
 */
export function beatDepth(levels) {
  const even = levelled(levels);
  if (even.length === 0) return 0;
  const high = quantile(even, 0.95);
  const low = quantile(even, 0.05);
  return (high - low) / (high + low);
}

/**
 * Beats a second of the strongest line between 2 and 30 Hz in a level.
 * @param {readonly number[]} levels at equal steps
 * @param {number} step seconds from one to the next
 */
export function beatRate(levels, step) {
  const even = levelled(levels);
  const mean = even.reduce((sum, level) => sum + level, 0) / Math.max(1, even.length);
  let best = { rate: 0, power: 0 };
  for (let rate = 2; rate <= 30; rate += 0.25) {
    let [real, imaginary] = [0, 0];
    even.forEach((level, at) => {
      const fade = 1 - Math.cos((2 * Math.PI * (at + 0.5)) / even.length);
      real += fade * (level - mean) * Math.cos(2 * Math.PI * rate * step * at);
      imaginary += fade * (level - mean) * Math.sin(2 * Math.PI * rate * step * at);
    });
    const power = real * real + imaginary * imaginary;
    if (power > best.power) best = { rate, power };
  }
  return best.rate;
}

/**
 * A row without its slope: the straight line of least squares through the logarithms is taken out.
 * @param {readonly number[]} levels
 * @returns {number[]} around 1
 */
function levelled(levels) {
  const logs = levels.map((level) => Math.log(Math.max(level, 1e-6)));
  const middle = (logs.length - 1) / 2;
  const mean = logs.reduce((sum, log) => sum + log, 0) / Math.max(1, logs.length);
  let [above, below] = [0, 0];
  logs.forEach((log, at) => {
    above += (at - middle) * (log - mean);
    below += (at - middle) ** 2;
  });
  const slope = below === 0 ? 0 : above / below;
  return logs.map((log, at) => Math.exp(log - mean - slope * (at - middle)));
}
