/** An instrument that nobody wrote a line of code for is chosen, diagnosed and led to an end like any other. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { assembleContent, loadContent } from '../../src/content/index.ts';
import { listFamilies } from '../../src/library/instrument-choice.ts';
import type { Runs } from '../../src/runs/runs.ts';
import type { StepView } from '../../src/runs/view.ts';
import { makePatient } from '../support/patient.ts';
import { flowsFolder, openRunsBench, type RunsBench } from '../support/runs-bench.ts';
import { withWhistle } from '../support/toy-whistle.ts';
import { nextKey, walkToEnd } from '../support/walk.ts';

const content = assembleContent(withWhistle(loadContent(flowsFolder).documents));
let bench: RunsBench;
beforeAll(async () => {
  bench = await openRunsBench(content);
});
afterAll(() => bench.dispose());

const open = async () => {
  const { id } = await bench.runs.open(
    { instrument: 'tin-whistle', person: 'director', tools: ['second-person'] },
    nextKey(),
  );
  return id;
};

const textsOf = ({ title, ask, why, plainly, cautions }: StepView) => [title, ask, why, plainly, ...cautions];

describe('an instrument told by data alone', () => {
  test('is offered with its family and a picture', () => {
    const family = listFamilies(content).find(({ id }) => id === 'whistle');
    expect(family).toMatchObject({ name: 'Whistles', instruments: [{ id: 'tin-whistle' }] });
    expect(family?.instruments[0]?.picture).toContain('picture-body');
  });

  test('is led from the first question to an end, in the words of its family and with no blank left open', async () => {
    const said: StepView[] = [];
    const runs: Runs = {
      ...bench.runs,
      async view(id) {
        const view = await bench.runs.view(id);
        said.push(view.step);
        return view;
      },
    };
    const patient = makePatient(
      content.instruments.get('tin-whistle')!.model,
      'uncovered@hole.right-middle',
      'gross',
    );
    const { end } = await walkToEnd(runs, await open(), () => patient);
    expect(end.kind).toBe('outcome');
    const ready = said.find(({ id }) => id === 'ready-mouthpiece');
    expect(ready?.title).toBe('A clean beak');
    expect([...(ready?.cautions ?? []), ...(ready?.reminders ?? []).map(({ text }) => text)]).toContain(
      content.cautions.get('hearing')?.text,
    );
    expect(said.find(({ id }) => id === 'danger-look')?.ask).toContain('Look along the whole pipe');
    expect(said.some(({ kind }) => kind === 'check')).toBe(true);
    for (const text of said.flatMap(textsOf)) expect(text).not.toContain('{{');
  });
});
