/** What a run remembers while it goes through the charts, and how conditions read it and effects change it. */
import type { Branch, Condition, Direction, FlowEvent, Memory, Person, ProcedureFile } from './schema.ts';

/** One procedure that was carried out, for the ticket and the outcome page. `turned` is in eighths of a turn, net. */
export type Repair = {
  readonly procedure: string;
  readonly fault: string;
  readonly direction: Direction | null;
  readonly turned: number;
  readonly exit: string;
  readonly leaves: 'as-found' | 'adjusted' | 'counted';
};

/** Plain JSON; kept beside the run. */
export type FlowContext = {
  readonly person: Person;
  readonly tools: readonly string[];
  /** The fault in hand: named by the last verdict that named one. */
  readonly fault: string | null;
  readonly procedure: string | null;
  readonly direction: Direction | null;
  /** Faults whose own proof has been seen and which have not been treated since. */
  readonly confirmed: readonly string[];
  readonly flags: Readonly<Record<string, boolean>>;
  readonly counters: Readonly<Record<string, number>>;
  readonly words: Readonly<Record<string, string>>;
  readonly repairs: readonly Repair[];
};

export type ProcedureTable = ReadonlyMap<string, ProcedureFile>;

/** The memory at its starting values. */
export function startMemory(memory: Memory): Pick<FlowContext, 'flags' | 'counters' | 'words'> {
  const starts = <T extends { starts: V }, V>(entries: Record<string, T>) =>
    Object.fromEntries(Object.entries(entries).map(([name, entry]) => [name, entry.starts]));
  return {
    flags: starts<{ starts: boolean }, boolean>(memory.flags),
    counters: Object.fromEntries(Object.entries(memory.counters).map(([name, entry]) => [name, entry.from])),
    words: starts<{ starts: string }, string>(memory.words),
  };
}

const isIn = <T>(value: T, wanted: T | readonly T[]) =>
  Array.isArray(wanted) ? wanted.includes(value) : value === wanted;

/** The fault and procedure that a condition is about: those that a verdict names, else those in hand. */
function inQuestion(context: FlowContext, event: FlowEvent | undefined) {
  if (event?.type !== 'verdict') return { fault: context.fault, procedure: context.procedure };
  return { fault: event.fault ?? null, procedure: event.procedure ?? null };
}

/**
 * Whether all the conditions hold. `has` answers conditions about texts (only variants of texts use them); a condition about
 * a procedure does not hold while there is none.
 */
export function holds(
  conditions: readonly Condition[] | undefined,
  context: FlowContext,
  more: { procedures: ProcedureTable; event?: FlowEvent | undefined; has?: (placeholder: string) => boolean },
): boolean {
  if (conditions === undefined) return true;
  const { fault, procedure } = inQuestion(context, more.event);
  const chart = procedure === null ? undefined : more.procedures.get(procedure);
  return conditions.every((condition) => {
    if (condition.person !== undefined) return isIn(context.person, condition.person);
    if (condition.flag !== undefined) return context.flags[condition.flag] === condition.is;
    if (condition.word !== undefined)
      return isIn(context.words[condition.word], condition.is as string | string[]);
    if (condition.counter !== undefined) {
      const count = context.counters[condition.counter] ?? 0;
      return count >= (condition.atLeast ?? -Infinity) && count <= (condition.atMost ?? Infinity);
    }
    if (condition.confirmed !== undefined)
      return (fault !== null && context.confirmed.includes(fault)) === condition.confirmed;
    if (condition.named !== undefined) return (fault !== null) === condition.named;
    if (condition.has !== undefined) return more.has?.(condition.has) ?? true;
    if (condition.lacks !== undefined) return !(more.has?.(condition.lacks) ?? true);
    if (chart === undefined) return false;
    if (condition.adjusts !== undefined) return chart.adjusts === condition.adjusts;
    if (condition.supervised !== undefined) return chart.supervised === condition.supervised;
    if (condition.allowed !== undefined) return chart.persons.includes(context.person) === condition.allowed;
    return condition.part !== undefined && isIn(chart.part, condition.part);
  });
}

/** The context after a branch's `set` and `count`. */
export function applyEffects(context: FlowContext, branch: Pick<Branch, 'set' | 'count'>): FlowContext {
  if (branch.set === undefined && branch.count === undefined) return context;
  const flags = { ...context.flags };
  const counters = { ...context.counters };
  const words = { ...context.words };
  for (const [name, value] of Object.entries(branch.set ?? {})) {
    if (typeof value === 'boolean') flags[name] = value;
    else if (typeof value === 'number') counters[name] = value;
    else words[name] = value;
  }
  for (const [name, step] of Object.entries(branch.count ?? {}))
    counters[name] = (counters[name] ?? 0) + step;
  return { ...context, flags, counters, words };
}

/** The context after taking in what an event itself tells: proofs seen, the fault, procedure and direction of a verdict. */
export function takeIn(context: FlowContext, event: FlowEvent): FlowContext {
  if (event.type === 'choice' || event.type === 'none') return context;
  if (event.type === 'recorded')
    return { ...context, confirmed: [...new Set([...context.confirmed, ...event.confirms])].sort() };
  if (event.verdict === 'treat') {
    return {
      ...context,
      fault: event.fault ?? null,
      procedure: event.procedure ?? null,
      direction: event.direction ?? null,
    };
  }
  if (event.verdict === 'confirm') return { ...context, fault: event.fault ?? null };
  return event.verdict === 'bench' ? { ...context, fault: event.fault ?? null } : context;
}

/** The context on leaving a procedure: the repair is written down, the chart's own memory goes, and the fault must be proved anew. */
export function leaveProcedure(context: FlowContext, chart: ProcedureFile, exit: string): FlowContext {
  const repair: Repair = {
    procedure: chart.procedure,
    fault: context.fault ?? '',
    direction: context.direction,
    turned: chart.turns === undefined ? 0 : (context.counters[chart.turns] ?? 0),
    exit,
    leaves: chart.exits[exit]?.leaves ?? 'counted',
  };
  const without = <T>(
    record: Readonly<Record<string, T>>,
    local: Record<string, unknown>,
  ): Record<string, T> =>
    Object.fromEntries(Object.entries(record).filter(([name]) => !Object.hasOwn(local, name)));
  return {
    ...context,
    flags: without(context.flags, chart.memory.flags),
    counters: without(context.counters, chart.memory.counters),
    words: without(context.words, chart.memory.words),
    repairs: [...context.repairs, repair],
    confirmed: context.confirmed.filter((fault) => fault !== context.fault),
  };
}
