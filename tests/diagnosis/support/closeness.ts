import { expect } from 'vitest';

/** Expects each figure to be as near to the one at its place as so many decimals. */
export function expectClose(actual: readonly number[], expected: readonly number[], decimals: number): void {
  expect(actual.length).toBe(expected.length);
  for (const [index, figure] of expected.entries()) expect(actual[index]).toBeCloseTo(figure, decimals);
}
