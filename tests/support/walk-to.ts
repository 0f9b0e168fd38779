/** Brings a run to an interesting point on its way. */
import type { AnswerBody } from '../../src/runs/schema.ts';
import type { StepView } from '../../src/runs/view.ts';
import { makePatient } from './patient.ts';
import type { RunsBench } from './runs-bench.ts';
import { type Choices, nextKey, walkToEnd } from './walk.ts';

/** The fault that most stories are about. */
export const gsharpScrew = 'slack@link.fsharp-holds-gsharp';

class Reached extends Error {}

/** Opens a run as a director with all tools to hand. */
export async function openAsDirector({ runs }: RunsBench): Promise<string> {
  const tools = ['screwdriver', 'paper', 'second-person', 'own-mouthpiece'] as never;
  return (await runs.open({ instrument: 'alto-saxophone', person: 'director', tools }, nextKey())).id;
}

/**
 * Walks as a director with the faulty instrument in hand, up to the first step that `isThere` accepts, else to the end.
 * A screw that is turned mends the instrument with the third turn.
 *
 * @returns the code of the run
 */
export async function walkTo(
  bench: RunsBench,
  isThere: (step: StepView) => boolean,
  fault: string = gsharpScrew,
): Promise<string> {
  const id = await openAsDirector(bench);
  let patient = makePatient(bench.model, fault);
  const runs = {
    ...bench.runs,
    view: async (code: string) => {
      const view = await bench.runs.view(code);
      if (isThere(view.step)) throw new Reached();
      return view;
    },
  };
  const choices: Choices = {
    'owner-word': 'yes',
    'procedure.turn-screw.test': (visit) => {
      if (visit === 2) patient = makePatient(bench.model, null);
      return ['better', 'trace', 'gone'][visit] ?? 'gone';
    },
  };
  await walkToEnd(runs, id, () => patient, choices).catch((error) => {
    if (!(error instanceof Reached)) throw error;
  });
  return id;
}

/** Gives one answer to the step that the run stands at. */
export async function give({ runs }: RunsBench, id: string, answer: AnswerBody): Promise<void> {
  const { revision } = await runs.view(id);
  await runs.answer(id, { revision, key: nextKey(), answer });
}
