/** The benchmark's figures as rows of a table. */
import type { Report } from './measures/report.ts';

export type Row = Readonly<Record<string, string>>;

const percent = (share: number) => (Number.isNaN(share) ? '–' : `${Math.round(100 * share)}`);
const pair = (one: number, other: number) => `${percent(one)} / ${percent(other)}`;
const round = (value: number, digits = 1) => value.toFixed(digits);

/** Accuracy and economy of one group of runs, in one line. */
export function accuracyRow(name: string, { runs, accuracy, economy, calibration }: Report): Row {
  const { engine, knowing, checklist } = economy;
  return {
    who: name,
    runs: `${runs}`,
    'first, % (of limit)': pair(accuracy.engine.top1, accuracy.ceiling.top1),
    'first three, %': pair(accuracy.engine.top3, accuracy.ceiling.top3),
    'fixed list, first %': percent(accuracy.checklist.top1),
    'checks, mean (95th)': `${round(engine.checks.mean)} (${engine.checks.p95})`,
    'knowing the truth': `${round(knowing.checks.mean)} (${knowing.checks.p95})`,
    'fixed list': `${round(checklist.checks.mean)} (${checklist.checks.p95})`,
    'minutes, mean (95th)': `${round(engine.seconds.mean / 60)} (${round(engine.seconds.p95 / 60)})`,
    'knowing, min': round(knowing.seconds.mean / 60),
    'list, min': round(checklist.seconds.mean / 60),
    ECE: round(calibration.engine.calibrationError, 3),
    Brier: round(calibration.engine.brier, 3),
    'log loss (of limit)': `${round(calibration.engine.logLoss, 2)} / ${round(calibration.ceiling.logLoss, 2)}`,
  };
}

/** A markdown table of rows that have the same columns. */
export function toMarkdown(rows: readonly Row[]): string {
  const columns = Object.keys(rows[0] ?? {});
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  return [
    line(columns),
    line(columns.map(() => '---')),
    ...rows.map((row) => line(columns.map((column) => row[column] ?? ''))),
  ].join('\n');
}
