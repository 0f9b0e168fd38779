/** Random people walk through the real charts; an observer that knows nothing of the proofs watches over them. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { FlowEvent, FlowState } from '../../src/flow/index.ts';
import { abstractFaults } from '../../src/flow/proof/alphabet.ts';
import { exploreFlow } from '../../src/flow/proof/explore.ts';
import { realFlow as flow } from './support.ts';

/** The engine asks no check twice, so it comes to an end; a walker's engine asks this often at most. */
const MOST_CHECKS = 20;
const MOST_STEPS = 600;
const ids = flow.charts.procedures.map(({ procedure }) => procedure);
/** What may be said at a state, in the order in which a walker with this number thinks of it. */
function eventsAt(state: FlowState, mayAsk: boolean, number: number): FlowEvent[] {
  const step = flow.step(state);
  const proofs = abstractFaults.map((fault): FlowEvent => ({ type: 'recorded', confirms: [fault] }));
  if (step.kind !== 'weigh') {
    const choices = step.choices.map(({ id }): FlowEvent => ({ type: 'choice', choice: id }));
    return rotate(
      step.kind === 'check' ? [...choices, { type: 'recorded', confirms: [] }, ...proofs] : choices,
      number,
    );
  }
  // A screw is proposed as often as everything else together.
  const procedure = number % 2 === 0 ? 'turn-screw' : ids[number % ids.length]!;
  const treatments = abstractFaults.map(
    (fault): FlowEvent => ({ type: 'verdict', verdict: 'treat', fault, procedure, direction: 'out' }),
  );
  const asking: FlowEvent[] = [
    { type: 'verdict', verdict: 'check' },
    ...abstractFaults.map((fault): FlowEvent => ({ type: 'verdict', verdict: 'confirm', fault })),
  ];
  const ending: FlowEvent[] = [
    { type: 'verdict', verdict: 'healthy' },
    { type: 'verdict', verdict: 'bench', fault: abstractFaults[0] },
  ];
  return [
    ...(number % 5 > 0 ? rotate(treatments, number) : []),
    ...rotate([...(mayAsk ? asking : []), ...ending], number),
  ];
}

function rotate<T>(list: readonly T[], by: number): T[] {
  const first = Math.floor(by / 60) % list.length;
  return [...list.slice(first), ...list.slice(0, first)];
}

type Step = { readonly before: FlowState; readonly event: FlowEvent; readonly after: FlowState };

/** Where walks are on their way out; most of the time a walker goes on instead, or few would ever see a screw. */
const isEnding = ({ after }: Step) =>
  ['stopping', 'needed'].includes(after.at) || flow.step(after).kind === 'outcome';

/** The first thing thought of that is taken; seldom one that leads to the end, where another is taken as well. */
function choose(before: FlowState, events: readonly FlowEvent[], number: number): Step {
  let last: Step | undefined;
  for (const event of events) {
    const result = flow.take(before, event);
    if ('refused' in result) continue;
    const step = { before, event, after: result.state };
    if (number % 11 === 0 || !isEnding(step)) return step;
    last ??= step;
  }
  return last!;
}

/** Walks until an outcome, choosing by the numbers. */
function walk(person: 'director' | 'helper' | 'desk', numbers: readonly number[]): Step[] {
  const steps: Step[] = [];
  let state = flow.begin({ person, tools: [] });
  let asked = 0;
  for (let turn = 0; turn < MOST_STEPS && flow.step(state).kind !== 'outcome'; turn++) {
    const number = numbers[turn % numbers.length]!;
    const step = choose(state, eventsAt(state, asked < MOST_CHECKS, number), number);
    if (step.event.type === 'verdict' && (step.event.verdict === 'check' || step.event.verdict === 'confirm'))
      asked++;
    steps.push(step);
    state = step.after;
  }
  return steps;
}

/** Looks at a walk from outside, keeping its own account of what was proved, approved and turned. */
function observe(person: string, steps: readonly Step[]): void {
  const proved = new Set<string>();
  let approved = false;
  let isAllowed = false;
  let turned = 0;
  let inHand: string | null = null;
  for (const { before, event, after } of steps) {
    if (event.type === 'recorded') for (const fault of event.confirms) proved.add(fault);
    const choice = event.type === 'choice' ? event.choice : '';
    if (before.at === 'owner-word' && choice === 'yes') isAllowed = true;
    if (before.at === 'supervisor' && choice === 'approved') approved = true;
    if (event.type === 'verdict' && event.verdict === 'treat') inHand = event.fault ?? null;

    const wasInside = before.at.startsWith('procedure.');
    const isInside = after.at.startsWith('procedure.');
    const chart = flow.charts.procedures.find(
      ({ procedure }) => procedure === (isInside ? after.at : before.at).split('.')[1],
    );
    if (isInside && !wasInside) {
      turned = 0;
      expect(proved).toContain(inHand);
      expect(chart!.persons).toContain(person);
      if (chart!.adjusts)
        expect([person, isAllowed]).toEqual([person === 'desk' ? 'nobody at the desk' : person, true]);
      if (chart!.supervised && person === 'helper') expect(approved).toBe(true);
    }
    if (wasInside && chart!.procedure === 'turn-screw') {
      const page = before.at.split('.').at(-1);
      if (choice === 'turned') turned += page === 'turn-quarter' ? 2 : page === 'turn-eighth' ? 1 : -1;
      if (page === 'put-back' && choice === 'back') turned = 0;
      expect(turned).toBeGreaterThanOrEqual(0);
      expect(turned).toBeLessThanOrEqual(8);
      if (isInside) expect(after.context.counters.turned).toBe(turned);
    }
    if (wasInside && !isInside) {
      const repair = after.context.repairs.at(-1)!;
      expect(repair).toMatchObject({ procedure: chart!.procedure, fault: inHand, turned });
      if (repair.leaves === 'as-found') expect(turned).toBe(0);
      proved.delete(inHand!);
      approved = false;
    }
  }
}

const person = fc.constantFrom('director' as const, 'helper' as const, 'desk' as const);
const numbers = fc.array(fc.nat(999_999), { minLength: 60, maxLength: 120 });

describe('any walk through the charts', () => {
  test('ends at an outcome that has everything it should, and breaks no rule on the way', {
    timeout: 120_000,
  }, () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(person, numbers, (who, chosen) => {
        const steps = walk(who, chosen);
        observe(who, steps);
        const { outcome, kind } = flow.step(steps.at(-1)!.after);
        expect(kind).toBe('outcome');
        for (const { procedure, turned } of steps.at(-1)!.after.context.repairs) {
          seen.add(turned > 0 ? 'a screw left turned' : procedure);
        }
        expect(
          outcome!.cautions.length * outcome!.untilMended.length * outcome!.escalation.length,
        ).toBeGreaterThan(0);
        expect(JSON.stringify(outcome)).not.toMatch(
          /\{\{(aim|tools|turned|limit|direction|oppositeDirection)\}\}/,
        );
      }),
      { numRuns: 200, seed: 2026 },
    );
    // Walks that mend nothing would prove little.
    expect([...seen]).toEqual(expect.arrayContaining(['a screw left turned', 'turn-screw']));
    expect(seen.size).toBeGreaterThan(5);
  });

  test('stays within the configurations that the proofs have looked at, move by move', {
    timeout: 120_000,
  }, () => {
    const { configurations, find } = exploreFlow(flow);
    fc.assert(
      fc.property(person, numbers, (who, chosen) => {
        for (const { before, after } of walk(who, chosen)) {
          const here = find(before.at, before.context);
          const there = find(after.at, after.context);
          expect(here).toBeDefined();
          expect(configurations[here!]!.moves.map((move) => move.to)).toContain(there);
        }
      }),
      { numRuns: 40 },
    );
  });

  test('gives the same when the state has been through JSON at every step', () => {
    fc.assert(
      fc.property(person, numbers, (who, chosen) => {
        for (const { before, event, after } of walk(who, chosen).slice(0, 60)) {
          const result = flow.take(JSON.parse(JSON.stringify(before)), event);
          expect(result).toEqual({ state: after });
        }
      }),
      { numRuns: 20 },
    );
  });
});
