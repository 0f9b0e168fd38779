import { describe } from 'vitest';
import { describeAppends } from './appends.ts';
import { describeClosing } from './closing.ts';
import { type StorePlace, useStore } from './harness.ts';
import { describeLists } from './lists.ts';
import { describeRepeats } from './repeats.ts';
import { describeRuns } from './runs.ts';

/** The behaviour that every store of runs must show, whatever database stands behind it. */
export function describeRunStore(name: string, makePlace: () => StorePlace | Promise<StorePlace>): void {
  describe(name, () => {
    const harness = useStore(makePlace);
    describeRuns(harness);
    describeAppends(harness);
    describeRepeats(harness);
    describeLists(harness);
    describeClosing(harness);
  });
}
