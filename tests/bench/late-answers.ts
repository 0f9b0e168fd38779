/** Whether an answer late in a run costs what an early one costs. */
import { openRunsBench } from '../support/runs-bench.ts';
import { nextKey } from '../support/walk.ts';
import { median } from './median.ts';
import { recordStory } from './story.ts';

const lateFrom = 200;

/** Milliseconds of an answer around step 5 and around step 200 of a run, medians over several runs. */
export async function measureLateAnswers(runs = 12): Promise<{ early: number; late: number }> {
  const story = await recordStory();
  const intake = story.slice(
    0,
    story.findIndex(({ type }) => type === 'note'),
  );
  const notes = story.filter((answer) => answer.type === 'note').slice(0, 10);
  const bench = await openRunsBench();
  const early: number[] = [];
  const late: number[] = [];
  for (let run = 0; run < runs; run += 1) {
    const { id } = await bench.runs.open(
      {
        instrument: 'alto-saxophone',
        person: 'director',
        tools: ['screwdriver', 'paper', 'second-person', 'own-mouthpiece'],
      },
      nextKey(),
    );
    let revision = 0;
    for (const answer of intake) {
      await bench.runs.answer(id, { revision, key: nextKey(), answer });
      revision += 1;
    }
    for (let step = 0; step < lateFrom; step += 1) {
      const begin = performance.now();
      await bench.runs.answer(id, { revision, key: nextKey(), answer: notes[step % notes.length]! });
      revision += 1;
      const milliseconds = performance.now() - begin;
      // The first ten notes fill the list of findings; after that the same notes are answered over again.
      if (step >= 5 && step < 15) early.push(milliseconds);
      if (step >= lateFrom - 10) late.push(milliseconds);
    }
  }
  await bench.dispose();
  return { early: median(early), late: median(late) };
}
