/** Whether runs come to the end of everything that was wrong: each fault mended here, or named to the bench. */
import { HEALTHY_ID, UNLISTED_ID } from './guess.ts';
import type { Result } from './result.ts';
import { share } from './statistics.ts';

export type Endings = {
  /** Runs with this many hidden faults that got past the danger signs. */
  readonly runs: number;
  /** Shares of them: every fault was mended here. */
  readonly mended: number;
  /** Every fault was mended here or stands among the suspects on the ticket. */
  readonly dealtWith: number;
  /** At least one was mended here, and another is left that the ticket does not name. */
  readonly forgotten: number;
  /** The run ended as if it played, with a fault left. */
  readonly calledWell: number;
};

/** How the runs with so many hidden faults ended. @param faults how many were hidden, at least one. */
export function endingsOf(results: readonly Result[], faults: number): Endings {
  const used = results.filter(
    ({ engine, truth }) => engine.kind !== 'danger' && faultsIn(truth).length === faults,
  );
  return {
    runs: used.length,
    mended: share(used, (result) => leftOf(result).length === 0),
    dealtWith: share(used, (result) => untold(result).length === 0),
    forgotten: share(
      used,
      (result) => leftOf(result).length < result.truth.length && untold(result).length > 0,
    ),
    calledWell: share(used, (result) => result.end === 'plays' && leftOf(result).length > 0),
  };
}

function faultsIn(truth: readonly string[]): readonly string[] {
  return truth.filter((id) => id !== HEALTHY_ID && id !== UNLISTED_ID);
}

/** Of the hidden faults, those that are still there. */
function leftOf({ truth, left }: Result): string[] {
  return truth.filter((id) => left.includes(id));
}

/** Those of them that no ticket names. */
function untold(result: Result): string[] {
  return leftOf(result).filter((id) => !result.named.includes(id));
}
