/** Whether conditions and effects use names that the charts' memory has, with values that it may hold. */
import { type Chart, isPage, listMoves, type Report } from './charts.ts';
import { isPlaceholder } from './placeholders.ts';
import type { Branch, Condition, Memory } from './schema.ts';

/** What a chart may read and write: the main chart's memory and its own. */
export type MemoryScope = { readonly main: Memory; readonly own: Memory };

/** Flags that the program itself reads or that the proofs are about. */
export const requiredFlags = ['canPlay', 'ownerAllows', 'approved'] as const;

/** Reports names declared twice, starting values out of range, and flags that are missing from the main chart. */
export function checkMemory(chart: Chart, main: Memory, report: Report): void {
  const { flags, counters, words } = chart.memory;
  const names = [...Object.keys(flags), ...Object.keys(counters), ...Object.keys(words)];
  for (const name of new Set(names.filter((candidate, index) => names.indexOf(candidate) !== index))) {
    report(null, ['memory'], `remembers "${name}" twice; a name stands for one thing`);
  }
  if (chart.procedure === null) {
    for (const flag of requiredFlags) {
      if (!Object.hasOwn(flags, flag)) report(null, ['memory', 'flags'], `needs the flag "${flag}"`);
    }
  } else {
    const taken = names.filter(
      (name) =>
        Object.hasOwn(main.flags, name) ||
        Object.hasOwn(main.counters, name) ||
        Object.hasOwn(main.words, name),
    );
    for (const name of taken)
      report(null, ['memory'], `remembers "${name}", which is a name of the main chart; choose another`);
  }
  for (const [name, counter] of Object.entries(counters)) {
    if (counter.to < counter.from)
      report(null, ['memory', 'counters', name], 'goes from more to less; "to" is the upper limit');
  }
  for (const [name, word] of Object.entries(words)) {
    if (!word.oneOf.includes(word.starts))
      report(
        null,
        ['memory', 'words', name, 'starts'],
        `starts as "${word.starts}", which is not in its list`,
      );
  }
}

const find = <T>(
  scope: MemoryScope,
  pick: (memory: Memory) => Record<string, T>,
  name: string,
): T | undefined => (Object.hasOwn(pick(scope.own), name) ? pick(scope.own)[name] : pick(scope.main)[name]);

/** Reports conditions on names or values that the memory has not, and on blanks that nobody fills. */
export function checkConditions(
  chart: Chart,
  scope: MemoryScope,
  blanks: readonly string[],
  report: Report,
): void {
  for (const [name, state] of Object.entries(chart.states)) {
    for (const { path, branches } of listMoves(chart, name)) {
      for (const branch of branches) checkWhen(branch.when, name, path, scope, null, report);
    }
    if (isPage(state)) {
      for (const [index, variant] of state.variants.entries()) {
        checkWhen(variant.when, name, ['states', name, 'variants', index], scope, blanks, report);
      }
    }
    if (state.kind === 'procedure') {
      for (const [exit, branches] of Object.entries(state.exits)) {
        for (const branch of branches)
          checkWhen(branch.when, name, ['states', name, 'exits', exit], scope, null, report);
      }
    }
  }
}

function checkWhen(
  when: readonly Condition[] | undefined,
  state: string,
  path: readonly (string | number)[],
  scope: MemoryScope,
  /** The blanks that families fill; null where a condition may not be about texts. */
  blanks: readonly string[] | null,
  report: Report,
): void {
  for (const condition of when ?? []) {
    const { flag, word, counter, is } = condition;
    const blank = condition.has ?? condition.lacks;
    if (flag !== undefined) {
      if (find(scope, (memory) => memory.flags, flag) === undefined)
        report(state, path, `asks for the flag "${flag}", which no memory has`);
      else if (typeof is !== 'boolean')
        report(state, path, `compares the flag "${flag}" with something that is not true or false`);
    }
    if (word !== undefined) {
      const known = find(scope, (memory) => memory.words, word)?.oneOf;
      const unknown = [is].flat().filter((value) => !known?.includes(value as string));
      if (known === undefined) report(state, path, `asks for the word "${word}", which no memory has`);
      else if (unknown.length > 0)
        report(
          state,
          path,
          `compares "${word}" with "${unknown.join('", "')}"; it can be ${known.join(', ')}`,
        );
    }
    if (counter !== undefined && find(scope, (memory) => memory.counters, counter) === undefined) {
      report(state, path, `asks for the counter "${counter}", which no memory has`);
    }
    if (blank === undefined) continue;
    if (blanks === null)
      report(state, path, '"has" and "lacks" are about texts and can only stand in variants');
    else if (!isPlaceholder(blank, blanks))
      report(state, path, `asks for the placeholder "${blank}", which does not exist`);
  }
}

/** Reports effects on names that the memory has not, or with values that it may not hold. */
export function checkEffects(chart: Chart, scope: MemoryScope, report: Report): void {
  for (const [name, state] of Object.entries(chart.states)) {
    for (const { path, branches } of listMoves(chart, name)) {
      for (const branch of branches) checkEffect(branch, name, path, scope, report);
    }
    if (state.kind !== 'procedure') continue;
    for (const [exit, branches] of Object.entries(state.exits)) {
      for (const branch of branches)
        checkEffect(branch, name, ['states', name, 'exits', exit], scope, report);
    }
  }
}

function checkEffect(
  branch: Branch,
  state: string,
  path: readonly (string | number)[],
  scope: MemoryScope,
  report: Report,
): void {
  for (const [name, value] of Object.entries(branch.set ?? {})) {
    const flag = find(scope, (memory) => memory.flags, name);
    const counter = find(scope, (memory) => memory.counters, name);
    const word = find(scope, (memory) => memory.words, name);
    const fits =
      (flag !== undefined && typeof value === 'boolean') ||
      (counter !== undefined && typeof value === 'number' && value >= counter.from && value <= counter.to) ||
      (word !== undefined && typeof value === 'string' && word.oneOf.includes(value));
    if (fits) continue;
    if (flag === undefined && counter === undefined && word === undefined)
      report(state, path, `sets "${name}", which no memory has`);
    else report(state, path, `sets "${name}" to ${JSON.stringify(value)}, which it cannot hold`);
  }
  for (const name of Object.keys(branch.count ?? {})) {
    if (find(scope, (memory) => memory.counters, name) === undefined)
      report(state, path, `counts "${name}", which is not a counter of any memory`);
  }
}
