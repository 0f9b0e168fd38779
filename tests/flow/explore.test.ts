import { describe, expect, test } from 'vitest';
import type { StateValue } from 'xstate';
import { getAdjacencyMap } from 'xstate/graph';
import { toMachineEvent } from '../../src/flow/compile.ts';
import type { FlowContext } from '../../src/flow/index.ts';
import {
  choiceCandidates,
  noNotes,
  recordCandidates,
  verdictCandidates,
} from '../../src/flow/proof/alphabet.ts';
import { shapeRows } from '../../src/flow/proof/configuration.ts';
import { exploreFlow } from '../../src/flow/proof/explore.ts';
import { findInfluences, findLiveVariables } from '../../src/flow/proof/liveness.ts';
import { Person } from '../../src/flow/schema.ts';
import { compileFlow, realCharts, smallCharts } from './support.ts';

const toPath = (value: StateValue): string =>
  typeof value === 'string'
    ? value
    : Object.entries(value).map(([name, inner]) => `${name}.${toPath(inner!)}`)[0]!;

describe('the search through all configurations', () => {
  test('finds what the graph functions of xstate find, and no more', { timeout: 120_000 }, () => {
    const charts = smallCharts(() => {});
    const flow = compileFlow(charts);
    const shape = shapeRows(charts);
    const keyOf = (at: string, row: readonly unknown[]) => `${at},${row.join(',')}`;
    const own = exploreFlow(flow).configurations.map(({ at, row }) => keyOf(at, row));

    const records = recordCandidates().map(({ said }) => toMachineEvent(said));
    const verdicts = verdictCandidates(charts).map(({ said }) => toMachineEvent(said));
    const theirs = Person.options.flatMap((person) =>
      Object.keys(
        getAdjacencyMap(flow.machine, {
          input: { person, tools: [] },
          limit: 1_000_000,
          serializeState: ({ value, context }) => {
            const at = toPath(value as StateValue);
            return keyOf(at, shape.simplify(at, shape.toRow(context as FlowContext)));
          },
          events: ({ value, context }) => {
            const step = flow.step({ at: toPath(value as StateValue), context: context as FlowContext });
            if (step.kind === 'weigh') return verdicts;
            const choices = choiceCandidates(step.choices.map(({ id }) => id)).map(({ said }) =>
              toMachineEvent(said),
            );
            if (step.kind === 'notes') return [...choices, ...records, toMachineEvent(noNotes.said)];
            return step.kind === 'check' ? [...choices, ...records] : choices;
          },
        }),
      ),
    );
    expect(own.length).toBeGreaterThan(1000);
    expect([...new Set(theirs)].sort()).toEqual([...own].sort());
  });
});

describe('what can still matter', () => {
  const live = findLiveVariables(realCharts);

  test('is what is asked for further on, and not what has been asked for the last time', () => {
    expect(live.get('play-test')).toContain('memory:ownerAllows');
    expect(live.get('needed')).not.toContain('memory:ownerAllows');
    expect(live.get('bench')).not.toContain('fault');
    expect(live.get('to-bench')).toContain('fault');
  });

  test('within a procedure is its own memory, and outside it is not', () => {
    expect(live.get('procedure.turn-screw.mark')).toContain('memory:turned');
    expect(live.get('procedure.free-pad.paper')).not.toContain('memory:turned');
    expect(live.get('weigh')).not.toContain('memory:turned');
  });

  test('is not the procedure in hand where a verdict will name another', () => {
    expect(live.get('weigh')).not.toContain('procedure');
    expect(live.get('before-treat')).toContain('procedure');
  });
});

test('what bears on an event takes in the routes that are followed at once', () => {
  const influences = findInfluences(realCharts);
  expect(influences.get('supervisor')?.get('choice.nobody')).toEqual(
    new Set(['memory:urgency', 'person', 'memory:withoutResult', 'fault']),
  );
  expect(influences.get('by-hand')?.get('choice.not-right')).toEqual(new Set());
  expect(influences.get('weigh')?.get('verdict.healthy')).toContain('memory:mended');
});
