/** The suspects before and after the last answer: the leading ones, "nothing wrong" and "everything else". */
import { type Suspects, sayChance } from '../diagnosis/index.ts';
import type { WhyChange, WhySuspect } from './why-schema.ts';

/** So many faults are shown, and so many of them because they lead now; the others led before or still come next. */
const shown = 6;
const shownAsLeading = 4;

/** From this share on, before or now, what is in no list stands by itself; figure of ours. */
const notListedFrom = 0.05;

/** Changes of a share from which on it counts as changed, and as much changed; figures of ours. */
const little = 0.01;
const much = 0.05;

/**
 * The rows of the bars; their shares sum to 1, before and now.
 *
 * @param before what was believed before the last answer, or null when there is nothing to compare with
 */
export function compareSuspects(now: Suspects, before: Suspects | null): WhySuspect[] {
  const sharesBefore = before === null ? null : sharesOf(before);
  const rows = chooseFaults(now, sharesBefore).map(({ fault, title, probability }) =>
    toRow(
      { kind: 'fault', fault, title },
      probability,
      sharesBefore === null ? null : (sharesBefore.get(fault) ?? 0),
    ),
  );
  const isNotListedShown = Math.max(now.somethingElse, before?.somethingElse ?? 0) >= notListedFrom;
  const listed = (pick: (row: WhySuspect) => number) => rows.reduce((sum, row) => sum + pick(row), 0);
  const rest = (shares: Suspects, sum: number) =>
    Math.min(1, Math.max(0, 1 - shares.healthy - (isNotListedShown ? shares.somethingElse : 0) - sum));
  return [
    ...rows,
    toRow(
      { kind: 'nothing-wrong', fault: null, title: 'Nothing wrong at all' },
      now.healthy,
      before === null ? null : before.healthy,
    ),
    ...(isNotListedShown
      ? [
          toRow(
            { kind: 'not-listed', fault: null, title: 'Something that is not on our list' },
            now.somethingElse,
            before === null ? null : before.somethingElse,
          ),
        ]
      : []),
    toRow(
      { kind: 'everything-else', fault: null, title: 'Everything else' },
      rest(
        now,
        listed((row) => row.now.probability),
      ),
      before === null
        ? null
        : rest(
            before,
            listed((row) => row.before?.probability ?? 0),
          ),
    ),
  ];
}

function sharesOf({ faults }: Suspects): Map<string, number> {
  return new Map(faults.map(({ fault, probability }) => [fault, probability]));
}

/** Those that lead now, then those that led most at either time, so that one that has just dropped out is seen to. */
function chooseFaults({ faults }: Suspects, before: ReadonlyMap<string, number> | null): Suspects['faults'] {
  const peak = ({ fault, probability }: Suspects['faults'][number]) =>
    Math.max(probability, before?.get(fault) ?? 0);
  const others = faults
    .slice(shownAsLeading)
    .toSorted((one, other) => peak(other) - peak(one))
    .slice(0, shown - shownAsLeading);
  return [...faults.slice(0, shownAsLeading), ...others].toSorted(
    (one, other) => other.probability - one.probability,
  );
}

function toRow(
  head: Pick<WhySuspect, 'kind' | 'fault' | 'title'>,
  now: number,
  before: number | null,
): WhySuspect {
  const say = (probability: number) => ({ probability, words: sayChance(probability) });
  return {
    ...head,
    before: before === null ? null : say(before),
    now: say(now),
    change: before === null ? null : changeOf(now - before),
  };
}

function changeOf(by: number): WhyChange {
  if (Math.abs(by) < little) return 'same';
  if (by > 0) return by < much ? 'rose-a-little' : 'rose';
  return by > -much ? 'fell-a-little' : 'fell';
}
