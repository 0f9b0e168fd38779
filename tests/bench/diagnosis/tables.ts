/** The benchmark's figures as tables. */
import type { Figures } from './figures.ts';
import type { Accuracy, Calibration, Report } from './measures/report.ts';

export type Row = Readonly<Record<string, string>>;

const percent = (share: number) => (Number.isNaN(share) ? '–' : `${Math.round(100 * share)}`);
const round = (value: number, digits = 1) => (Number.isNaN(value) ? '–' : value.toFixed(digits));
const minutes = (seconds: number) => round(seconds / 60);
const ofLimit = (engine: Accuracy, limit: Accuracy, which: keyof Accuracy) =>
  `${percent(engine[which])} / ${percent(limit[which])}`;
const ofNoise = ({ calibrationError, calibrationNoise }: Calibration) =>
  `${round(calibrationError, 3)} (${round(calibrationNoise, 3)})`;

/** How often the first guess, or one of the first three, is right; how sure the program says it is. */
export function accuracyTable(reports: Figures['reports']): Row[] {
  return reports.map(({ name, report: { runs, accuracy, calibration } }) => ({
    'instrument, person': name,
    runs: `${runs}`,
    'first right, % / limit': ofLimit(accuracy.engine, accuracy.ceiling, 'top1'),
    'in first three, % / limit': ofLimit(accuracy.engine, accuracy.ceiling, 'top3'),
    'what to do right, % / limit': ofLimit(accuracy.engine, accuracy.ceiling, 'deed'),
    'fixed list, first right, %': percent(accuracy.checklist.top1),
    'calibration error (noise)': ofNoise(calibration.engine),
    Brier: round(calibration.engine.brier, 3),
    'log loss / limit': `${round(calibration.engine.logLoss, 2)} / ${round(calibration.ceiling.logLoss, 2)}`,
  }));
}

/** What a decision costs, beside one who knows the truth, a fixed list, and the floor of information. */
export function economyTable(reports: Figures['reports'], floors: Figures['floors'] = {}): Row[] {
  const hasFloors = Object.keys(floors).length > 0;
  return reports.map(({ name, report: { economy } }) => {
    const { engine, knowing, checklist } = economy;
    const mean = ({ checks, seconds }: Report['economy']['engine']) =>
      `${round(checks.mean)} (${round(checks.p95, 0)}); ${minutes(seconds.mean)} (${minutes(seconds.p95)}) min`;
    return {
      'instrument, person': name,
      'checks; time, mean (95th percentile)': mean(engine),
      'knowing the truth': mean(knowing),
      'fixed list': mean(checklist),
      'notes played': round(engine.notes),
      ...(hasFloors ? { 'fewest answers': round(floors[name] ?? Number.NaN) } : {}),
    };
  });
}

/** What the first instrument's figures become when things are harder. */
export function robustnessTable({ ordinary, robust }: Figures): Row[] {
  return [{ name: 'as they come', report: ordinary }, ...robust].map(({ name, report }) => ({
    condition: name,
    runs: `${report.runs}`,
    'first right, % / limit': ofLimit(report.accuracy.engine, report.accuracy.ceiling, 'top1'),
    'in first three, % / limit': ofLimit(report.accuracy.engine, report.accuracy.ceiling, 'top3'),
    'calibration error (noise)': ofNoise(report.calibration.engine),
  }));
}

/** Whether runs come to the end of everything that was wrong. */
export function endingsTable({ endings }: Figures): Row[] {
  return Object.entries(endings).map(([count, ended]) => ({
    'hidden faults': count,
    runs: `${ended.runs}`,
    'every one mended here, %': percent(ended.mended),
    'every one mended here or named on the ticket, %': percent(ended.dealtWith),
    'one mended, another forgotten, %': percent(ended.forgotten),
    'called well with a fault left, %': percent(ended.calledWell),
  }));
}

/** Each goal, what was measured, and whether it was met. */
export function goalTable({ all, ordinary, robust, safety, dangers, regret }: Figures): Row[] {
  const { accuracy, economy, calibration } = all;
  const lost = (whose: 'engine' | 'ceiling') =>
    Math.max(...robust.map(({ report }) => ordinary.accuracy[whose].top3 - report.accuracy[whose].top3));
  return [
    goal('first right, as a share of the limit', accuracy.engine.top1 / accuracy.ceiling.top1, {
      least: 0.95,
    }),
    goal('what to do right, as a share of the limit', accuracy.engine.deed / accuracy.ceiling.deed, {
      least: 0.95,
    }),
    goal('in first three, as a share of the limit', accuracy.engine.top3 / accuracy.ceiling.top3, {
      least: 0.95,
    }),
    goal(
      'checks, as a multiple of one who knows the truth',
      economy.engine.checks.mean / economy.knowing.checks.mean,
      { most: 1.25 },
    ),
    goal(
      'time, as a multiple of one who knows the truth',
      economy.engine.seconds.mean / economy.knowing.seconds.mean,
      { most: 1.25 },
    ),
    goal(
      `choice of checks on ${regret.count} small instruments, as a multiple of the optimum, mean (looking ahead by rollout: ${round(regret.lookingAhead, 3)})`,
      regret.mean,
      { most: 1.03 },
    ),
    goal('… the worst of them', regret.worst, { most: 1.1 }),
    goal(
      `calibration error (of which ${round(calibration.engine.calibrationNoise, 3)} would be noise in so few runs)`,
      calibration.engine.calibrationError,
      { most: 0.05 },
    ),
    goal(
      `points of the first three lost under the hardest condition (the limit loses ${round(100 * lost('ceiling'))})`,
      100 * lost('engine'),
      { most: 5 },
    ),
    goal(
      `adjusting steps offered without their own proof (${safety.offers} offered in ${safety.runs} runs)`,
      safety.unproved,
      { most: 0 },
    ),
    goal('… with it, for a part that is not at fault, in 1000 runs', 1000 * safety.wrong, { most: 1 }),
    goal('runs that left a good screw turned', safety.stray, { most: 0 }),
    goal('… and did not say so on the ticket', safety.strayUntold, { most: 0 }),
    ...dangers.map(({ name, report }) => ({
      what: `danger signs that the ${name} sees: sent to the bench at once (overlooked ones in brackets: in the end)`,
      measured: `${report.seen - report.missed} of ${report.seen} (${report.overlooked - report.neverSent} of ${report.overlooked})`,
      goal: '95 %, shown with 95 % confidence',
      met: report.isShown ? 'yes' : 'no',
    })),
  ];
}

function goal(what: string, value: number, { least, most }: { least?: number; most?: number }): Row {
  const isMet = least === undefined ? value <= most! : value >= least;
  return {
    what,
    measured: round(value, Number.isInteger(value) ? 0 : 3),
    goal: least === undefined ? `at most ${most}` : `at least ${least}`,
    met: isMet ? 'yes' : 'no',
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
