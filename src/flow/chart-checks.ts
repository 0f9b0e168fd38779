/** Whether charts fit together: every name that one part uses is there in another, and nothing can hang. */
import {
  type Chart,
  type Charts,
  choicesOf,
  type FlowProblem,
  isPage,
  listCharts,
  listMoves,
  procedureState,
  type Report,
} from './charts.ts';
import { checkConditions, checkEffects, checkMemory, type MemoryScope } from './memory-checks.ts';
import type { Branch } from './schema.ts';
import { checkPlaceholders, checkTexts } from './text-checks.ts';

/**
 * Every problem of these charts, none when they fit together. Asked before anything is compiled, because a machine with a
 * missing target or a circle of routes would fail late or never answer.
 */
export function checkCharts(charts: Charts): FlowProblem[] {
  const problems: FlowProblem[] = [];
  const reporter =
    (file: string): Report =>
    (state, path, message) => {
      problems.push({ file, state, path, message });
    };
  const all = listCharts(charts);
  const scope: MemoryScope = { main: charts.main.memory, own: charts.main.memory };
  for (const chart of all) {
    const report = reporter(chart.file);
    const own = { ...scope, own: chart.memory };
    checkMemory(chart, scope.main, report);
    checkTargets(chart, report);
    checkRoutes(chart, report);
    checkConditions(chart, own, charts.blanks, report);
    checkEffects(chart, own, report);
    checkTexts(chart, charts, report);
    if (chart.procedure !== null) checkProcedure(chart, charts, report);
  }
  checkProcedureState(charts, reporter('main.yaml'));
  checkEndings(charts, reporter);
  return problems;
}

const list = (names: Iterable<string>) => [...names].join(', ');

function checkTargets(chart: Chart, report: Report): void {
  const known = Object.keys(chart.states);
  if (!known.includes(chart.starts))
    report(
      null,
      ['starts'],
      `starts at "${chart.starts}", which is not a state of this chart; its states are ${list(known)}`,
    );
  for (const name of known) {
    const state = chart.states[name]!;
    for (const { path, branches } of listMoves(chart, name)) {
      for (const branch of branches) checkTarget(chart, name, branch, path, report);
    }
    if (!isPage(state)) continue;
    const ids = choicesOf(chart, state).map((choice) => choice.id);
    if (state.withoutAdjusting !== undefined && !ids.includes(state.withoutAdjusting)) {
      report(
        name,
        ['states', name, 'withoutAdjusting'],
        `takes the answer "${state.withoutAdjusting}" for granted, which it does not offer; its answers are ${list(ids)}`,
      );
    }
    for (const id of new Set(ids.filter((candidate, index) => ids.indexOf(candidate) !== index))) {
      report(
        name,
        ['states', name, 'choices'],
        `offers the answer "${id}" twice; give each answer of a page its own id`,
      );
    }
  }
}

function checkTarget(
  chart: Chart,
  name: string | null,
  branch: Branch,
  path: (string | number)[],
  report: Report,
): void {
  if (branch.to !== undefined && !Object.hasOwn(chart.states, branch.to)) {
    report(
      name,
      path,
      `leads to "${branch.to}", which is not a state of this chart; its states are ${list(Object.keys(chart.states))}`,
    );
  }
  if (branch.exit === undefined) return;
  if (chart.procedure === null)
    report(name, path, `has the exit "${branch.exit}", but only procedures have exits; use "to"`);
  else if (!Object.hasOwn(chart.procedure.exits, branch.exit)) {
    report(
      name,
      path,
      `leaves by the exit "${branch.exit}", which is not declared; the exits are ${list(Object.keys(chart.procedure.exits))}`,
    );
  }
}

/** Routes must always have somewhere to go, and must not go in a circle: nobody is asked there, so nothing could end it. */
function checkRoutes(chart: Chart, report: Report): void {
  const onwards = (name: string): string[] => {
    const state = chart.states[name];
    return state?.kind === 'route' ? state.go.flatMap((branch) => branch.to ?? []) : [];
  };
  for (const [name, state] of Object.entries(chart.states)) {
    if (state.kind !== 'route') continue;
    if (state.go.at(-1)!.when !== undefined) {
      report(
        name,
        ['states', name, 'go'],
        'the last branch of a route must have no condition, or a run could get stuck here',
      );
    }
    const seen = new Set<string>();
    const open = onwards(name);
    while (open.length > 0) {
      const next = open.pop()!;
      if (next === name) {
        report(
          name,
          ['states', name],
          `goes in a circle of routes (${list([name, ...seen])}) in which nobody is asked; a run would never come out`,
        );
        break;
      }
      if (!seen.has(next)) {
        seen.add(next);
        open.push(...onwards(next));
      }
    }
  }
}

function checkProcedure(chart: Chart, charts: Charts, report: Report): void {
  const procedure = chart.procedure!;
  if (procedure.adjusts && !procedure.supervised)
    report(null, ['supervised'], 'adjusts something, so a helper needs a supervisor: write supervised: true');
  if (procedure.adjusts && procedure.persons.includes('desk'))
    report(null, ['persons'], 'adjusts something, so the desk cannot do it: take desk out of persons');
  if (procedure.turns !== undefined && !Object.hasOwn(procedure.memory.counters, procedure.turns)) {
    report(null, ['turns'], `counts turns in "${procedure.turns}", which is not one of its counters`);
  }
  const ids = charts.procedures.map((other) => other.procedure);
  if (ids.indexOf(procedure.procedure) !== ids.lastIndexOf(procedure.procedure))
    report(null, ['procedure'], `the id "${procedure.procedure}" is used by two files`);
}

function checkProcedureState(charts: Charts, report: Report): void {
  const holder = procedureState(charts.main);
  if (holder === undefined) {
    report(null, ['states'], 'needs exactly one state of kind procedure');
    return;
  }
  const state = charts.main.states[holder]!;
  if (state.kind !== 'procedure') return;
  const main = listCharts(charts)[0]!;
  for (const [exit, branches] of Object.entries(state.exits)) {
    for (const branch of branches)
      checkTarget(main, holder, branch, ['states', holder, 'exits', exit], report);
    if (branches.at(-1)!.when !== undefined)
      report(holder, ['states', holder, 'exits', exit], 'the last branch of an exit must have no condition');
  }
  for (const procedure of charts.procedures) {
    for (const exit of Object.keys(procedure.exits).filter((name) => !Object.hasOwn(state.exits, name))) {
      report(
        holder,
        ['states', holder, 'exits'],
        `does not say where to go when ${procedure.procedure} ends by "${exit}"`,
      );
    }
  }
}

/** Outcomes, jobs and cautions: ids used once, and every id that is referred to is there. */
function checkEndings(charts: Charts, reporter: (file: string) => Report): void {
  const checkUnique = (file: string, key: string, ids: readonly string[]) => {
    for (const [index, id] of ids.entries()) {
      if (ids.indexOf(id) !== index) reporter(file)(null, [key, index, 'id'], `the id "${id}" is used twice`);
    }
    return new Set(ids);
  };
  const idsOf = (entries: readonly { id: string }[]) => entries.map((entry) => entry.id);
  const outcomes = checkUnique('outcomes.yaml', 'outcomes', idsOf(charts.outcomes.outcomes));
  const jobs = checkUnique('jobs.yaml', 'jobs', idsOf(charts.jobs.jobs));
  const urgencies = checkUnique('jobs.yaml', 'urgencies', idsOf(charts.jobs.urgencies));
  const cautions = checkUnique('cautions.yaml', 'cautions', idsOf(charts.cautions.cautions));

  for (const [index, outcome] of charts.outcomes.outcomes.entries()) {
    const report = (path: (string | number)[], message: string) =>
      reporter('outcomes.yaml')(outcome.id, ['outcomes', index, ...path], message);
    for (const [at, id] of outcome.cautions.entries()) {
      if (!cautions.has(id))
        report(['cautions', at], `names the caution "${id}", which cautions.yaml has not`);
    }
    const texts = { title: outcome.title, lead: outcome.lead, escalation: outcome.escalation };
    for (const [key, text] of Object.entries(texts))
      checkPlaceholders(text, charts.blanks, (message) => report([key], message));
    for (const [at, text] of outcome.untilMended.entries())
      checkPlaceholders(text, charts.blanks, (message) => report(['untilMended', at], message));
    for (const [at, text] of outcome.recheck.entries())
      checkPlaceholders(text, charts.blanks, (message) => report(['recheck', at], message));
    if (outcome.job !== 'of-the-fault' && !jobs.has(outcome.job))
      report(['job'], `names the job "${outcome.job}"; jobs.yaml has ${list(jobs)}`);
    if (outcome.urgency !== 'asked' && !urgencies.has(outcome.urgency))
      report(['urgency'], `names the urgency "${outcome.urgency}"; jobs.yaml has ${list(urgencies)}`);
  }
  for (const value of charts.main.memory.words.urgency?.oneOf ?? []) {
    if (!urgencies.has(value))
      reporter('main.yaml')(
        null,
        ['memory', 'words', 'urgency'],
        `has the urgency "${value}"; jobs.yaml has ${list(urgencies)}`,
      );
  }
  for (const [name, state] of Object.entries(charts.main.states)) {
    if (state.kind === 'outcome' && !outcomes.has(state.outcome)) {
      reporter('main.yaml')(
        name,
        ['states', name, 'outcome'],
        `ends with the outcome "${state.outcome}"; outcomes.yaml has ${list(outcomes)}`,
      );
    }
  }
}
