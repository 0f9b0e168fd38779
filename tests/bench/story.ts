/** One whole run, recorded once, to be given again and again over HTTP. */
import type { AnswerBody } from '../../src/runs/schema.ts';
import { makePatient } from '../support/patient.ts';
import { openRunsBench } from '../support/runs-bench.ts';
import { nextKey, walkToEnd } from '../support/walk.ts';

/** Every answer of the run that mends a slack screw: intake, set-up checks, notes, proof, turns, retest. */
export async function recordStory(): Promise<AnswerBody[]> {
  const bench = await openRunsBench();
  const answers: AnswerBody[] = [];
  const recording = {
    ...bench.runs,
    answer: (id: string, request: Parameters<typeof bench.runs.answer>[1]) => {
      answers.push(request.answer);
      return bench.runs.answer(id, request);
    },
  };
  let patient = makePatient(bench.model, 'slack@link.fsharp-holds-gsharp');
  const tools = ['screwdriver', 'paper', 'second-person', 'own-mouthpiece'] as const;
  const { id } = await bench.runs.open(
    { instrument: 'alto-saxophone', person: 'director', tools: [...tools] },
    nextKey(),
  );
  await walkToEnd(recording, id, () => patient, {
    'owner-word': 'yes',
    'procedure.turn-screw.test': (visit) => {
      if (visit === 2) patient = makePatient(bench.model, null);
      return ['better', 'trace', 'gone'][visit] ?? 'gone';
    },
  });
  await bench.dispose();
  return answers;
}
